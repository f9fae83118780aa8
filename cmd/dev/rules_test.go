package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// rule forbids a word in some of our files. Comments may say it.
type rule struct {
	word   string            // a regular expression
	in     []string          // patterns of files, from the root
	except map[string]string // file -> why the word may stand in it
	bites  string            // a line that the rule must find
	why    string
}

var (
	scripts  = []string{"pwa/static/*.js", "server/web/static/*.js"}
	pages    = []string{"templates/*.templ", "pwa/static/*.html"}
	servers  = []string{"server/*.go", "server/*/*.go", "cmd/strutcard/*.go"}
	seam     = []string{"pwa/browser/*.go", "pwa/client/*.go", "cmd/phone/*.go"}
	browsing = []string{"e2e/*.go"}
)

// rules are what others have been bitten by. To add one, add its reason and a
// line that it must find.
var rules = []rule{
	{word: `\bindexedDB\b|objectStore|\bIDB[A-Z]`, in: seam, bites: `js.Global().Get("indexedDB")`,
		why: "a transaction of the browser ends while Go waits: the page writes a whole batch in one call"},
	{word: `getDirectory|createWritable|createSyncAccessHandle`, in: scripts, bites: `await navigator.storage.getDirectory()`,
		why: "the private file system is there in some browsers and cannot be written in them"},
	{word: `\.index\(|[oO]penCursor|openKeyCursor`, in: []string{"pwa/static/media.js", "pwa/static/upload.js"}, bites: `pictures.index("step").getAll(step)`,
		why: "a picture that is read through an index cannot be read in some browsers: it is asked for by its key"},
	{word: `beforeunload|['"]unload['"]|onunload`, in: scripts, bites: `addEventListener("beforeunload", save)`,
		why: "phones do not run it: what counts is on disk before anybody leaves"},
	{word: `navigationPreload`, in: scripts, bites: `await registration.navigationPreload.enable()`,
		why: "the page comes from the worker's own files; a preload asks twice and can fail by itself"},
	{word: `SyncManager|periodicSync|backgroundFetch|\.sync\.register|\(['"]sync['"], *\(`, in: scripts, bites: `registration.sync.register("outbox")`,
		why: "some phones never run it and others run it late: the page itself syncs"},
	{word: `new (Shared)?Worker\(|importScripts`, in: scripts, bites: `const w = new Worker("/app.js")`, except: map[string]string{"pwa/static/guard.js": "it finds the kept program itself, takes no other than this page's, and the page does so without it"},
		why: "the requests of a page's worker may pass the service worker by, and then nothing starts offline"},
	{word: `\.innerHTML|\.outerHTML|insertAdjacentHTML|document\.write|\beval\(|new Function|setHTMLUnsafe`, in: scripts, bites: `box.innerHTML = text`,
		except: map[string]string{"pwa/static/paint.js": "what Go's templates made, which escape", "pwa/static/guard.js": "the same, kept from last time"},
		why:    "text of anybody's must never become markup or code"},
	{word: `templ\.Raw|templ\.SafeURL\(|templ\.URL\(|templ\.JS|SafeScript|SafeCSS|templ\.Script`, in: []string{"templates/*.templ", "templates/*.go", "templates/paper/*.templ", "templates/paper/*.go", "pwa/client/*.go", "server/web/*.go"},
		bites: `<a href={ templ.URL(v.Link) }>`, except: map[string]string{"templates/attrs.go": "the three sorts of link that there are", "templates/paper/paper.templ": "its own style, and the data block, which it escapes itself"},
		why: "escaping ends there: templ.URL lets //another.host through"},
	{word: `<script>|<style|\bstyle=|\bon[a-z]+=|javascript:`, in: pages, bites: `<button onclick="save()">`,
		why: "the policy forbids what is inline, so that text cannot become code; a nonce would freeze in a kept page"},
	{word: `formaction|formmethod|target="_blank"`, in: pages, bites: `<button formaction="/save">`,
		why: "a form that the browser sends by itself loses what was typed when there is no connection"},
	{word: `echo/v4/middleware|MethodOverride|BodyLimit|\.Static\(|\.File\(|StaticFS|http\.FileServer|http\.ServeFile\(|http\.Dir\(`, in: servers, bites: `e.Static("/", "public")`,
		why: "limits, files and methods go through our own few lines: these have let bodies, paths and other sites' requests through"},
	{word: `\.(POST|PUT|PATCH|DELETE|Any|Match)\(`, in: servers, bites: `e.POST("/api/v1/x", h)`, except: map[string]string{"server/web/web.go": "routes.post and routes.put, which take a limit", "server/web/photo.go": "limited, as they do"},
		why: "a route that takes a body says how large it may be"},
	{word: `(?i)x-forwarded|x-real-ip|ExtractIPFrom|\.Scheme\(\)|IsTLS\(\)`, in: servers, bites: `c.Request().Header.Get("X-Forwarded-Proto")`,
		why: "anybody can send such a header: where a request came from and how is not taken from it"},
	{word: `jwt\.Parse(WithClaims)?\(|ParseUnverified|WithoutClaimsValidation`, in: servers, bites: `jwt.Parse(token, key)`, except: map[string]string{"server/auth/token.go": "Recognise, which lets nobody in: Check has the strict one"},
		why: "the library checks neither the end nor the method by itself: auth.Tokens has the one parser"},
	{word: `js\.FuncOf`, in: seam, bites: `js.FuncOf(f)`,
		except: map[string]string{"pwa/browser/await_js.go": "settles a promise, sends into a channel with room", "pwa/browser/export_js.go": "export, which recovers and never blocks"},
		why:    "a callback that blocks stops the page, and one that panics ends the program"},
	{word: `\.Route\(|RouteFromHAR|WaitForFunction\(`, in: browsing, bites: `page.Route("**", f)`,
		why: "routes do not see the worker's requests and the policy forbids planted scripts: faults are made in our own server, and tests ask from outside"},
	{word: `^\s*go [a-z(]|errgroup|time\.AfterFunc`, in: []string{"calc/*.go", "calc/*/*.go", "sync/*/*.go", "sync/*/*/*.go", "templates/*.go", "templates/*/*.go"}, bites: `	go fold(events)`,
		why: "the rules are plain functions: nothing goes on beside them, and their tests run without the race detector"},
	{word: `playwright\.Install`, in: browsing, bites: `playwright.Install()`,
		why: "the browser and its driver come from pinned packages: the place that served drivers is gone"},
}

func TestRules(t *testing.T) {
	for _, r := range rules {
		t.Run(r.bites, func(t *testing.T) {
			word := regexp.MustCompile(r.word)
			if !word.MatchString(r.bites) {
				t.Fatal("the rule does not find its own example")
			}
			used := map[string]bool{}
			for _, name := range matching(t, r.in) {
				for _, line := range said(t, name, word) {
					if used[name] = true; r.except[name] == "" {
						t.Errorf("%s: %s", line, r.why)
					}
				}
			}
			for name := range r.except {
				if !used[name] {
					t.Errorf("%s needs no exception any more", name)
				}
			}
		})
	}
}

// matching lists the files of the patterns, without tests of Go and what is
// generated, and fails for a pattern that finds none.
func matching(t *testing.T, patterns []string) []string {
	t.Helper()
	var names []string
	for _, pattern := range patterns {
		found, err := filepath.Glob(filepath.Join("../..", pattern))
		if err != nil || len(found) == 0 {
			t.Fatalf("%s finds no file: the rule would check nothing (%v)", pattern, err)
		}
		for _, name := range found {
			name = filepath.ToSlash(strings.TrimPrefix(name, "../../"))
			if strings.HasSuffix(name, "_templ.go") || strings.HasSuffix(name, "_test.go") && !strings.HasPrefix(name, "e2e/") {
				continue
			}
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// said finds the lines of a file that hold a word outside a comment.
func said(t *testing.T, name string, word *regexp.Regexp) []string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("../..", name))
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for i, line := range strings.Split(string(text), "\n") {
		code, _, _ := strings.Cut(line, "// ")
		if trimmed := strings.TrimSpace(code); strings.HasPrefix(trimmed, "*") || strings.HasPrefix(trimmed, "/*") {
			continue
		}
		if word.MatchString(code) {
			lines = append(lines, fmt.Sprintf("%s:%d: %s", name, i+1, strings.TrimSpace(line)))
		}
	}
	return lines
}
