package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"strutcard/calc/lang"
)

// worded are the folders whose words a person reads in the app.
var worded = []string{"calc", "sync", "pwa", "server", "templates"}

// tables are the packages whose package-level texts are shown: words that are data.
var tables = []string{"sync/guide", "sync/kit", "sync/method", "sync/plausible", "sync/review", "sync/sheet", "sync/units", "sync/card", "pwa/client", "server/web", "templates", "templates/paper"}

const guard = "guard.js"

// sheets are the folders of layouts and demo sheets, whose words stand in JSON.
var sheets = []string{"sync/sheet/patterns", "sync/sheet/demo"}

// sheetTexts are the fields of a fitting sheet that a person reads.
var sheetTexts = map[string]bool{"title": true, "do": true, "why": true, "cautions": true, "ask": true, "stop": true, "what": true, "place": true,
	"prepare": true, "reuse": true, "camber": true, "name": true, "first": true, "note": true, "source": true, "shut": true, "open": true}

// sayers are the functions whose leading constant arguments are texts: how many are skipped, how many are taken.
var sayers = map[string][2]int{"T": {0, 1}, "F": {0, 1}, "N": {1, 2}, "Inputf": {0, 2}, "New": {1, 2}, "Wrap": {2, 2}}

type wordsVerb struct {
	Under string `arg:"" optional:"" help:"Only the texts of files whose path begins with this."`
}

// Run lists the English texts that the German catalogue lacks, as JSON to be filled in.
func (v *wordsVerb) Run() error {
	texts, err := texts(".")
	if err != nil {
		return err
	}
	known, err := lang.Catalogue(lang.German)
	if err != nil {
		return err
	}
	missing := map[string]string{}
	for text, at := range texts {
		if _, ok := known[text]; !ok && strings.HasPrefix(at, v.Under) {
			missing[text] = at
		}
	}
	out := json.NewEncoder(os.Stdout)
	out.SetEscapeHTML(false)
	out.SetIndent("", "\t")
	return out.Encode(missing)
}

// texts gathers what the app says: each English text with the place of one use.
func texts(root string) (map[string]string, error) {
	found := map[string]string{}
	for _, folder := range worded {
		err := filepath.WalkDir(filepath.Join(root, folder), func(path string, d fs.DirEntry, err error) error {
			if err != nil || !d.IsDir() {
				return err
			}
			return textsOf(root, path, found)
		})
		if err != nil {
			return nil, err
		}
	}
	return found, errors.Join(sheetWords(root, found), pageWords(root, found))
}

// addWords adds the catalogue for the phone, and tells the page's guard, which must
// speak when nothing else arrives, its own texts.
func addWords(files map[string][]byte) error {
	all, err := lang.Catalogue(lang.German)
	if err != nil {
		return err
	}
	if files[lang.German+".txt"], err = lang.Small(all); err != nil {
		return err
	}
	guarded := map[string]string{}
	scriptWords(string(files[guard])+string(files[page]), func(text string) {
		if other, ok := all[text]; ok {
			guarded[text] = other
		}
	})
	words, err := json.Marshal(map[string]any{lang.German: guarded})
	if err != nil {
		return err
	}
	return tell(files, guard, words)
}

// inScript finds the texts that the page itself says: in scripts, and in the page.
var inScript = regexp.MustCompile(`\bt\("((?:[^"\\]|\\.)*)"|data-words>([^<]+)<`)

func scriptWords(source string, keep func(string)) {
	for _, m := range inScript.FindAllStringSubmatch(source, -1) {
		keep(m[1] + m[2])
	}
}

// pageWords reads the scripts and the page.
func pageWords(root string, found map[string]string) error {
	names, err := filepath.Glob(filepath.Join(root, staticFolder, "*.js"))
	if err != nil {
		return err
	}
	for _, name := range append(names, filepath.Join(root, staticFolder, page)) {
		source, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		scriptWords(string(source), func(text string) { found[text] = filepath.ToSlash(filepath.Join(staticFolder, filepath.Base(name))) })
	}
	return nil
}

// textsOf reads the Go files of one package.
func textsOf(root, folder string, found map[string]string) error {
	names, err := filepath.Glob(filepath.Join(folder, "*.go"))
	if err != nil {
		return err
	}
	set, files := token.NewFileSet(), map[string]*ast.File{}
	constants := map[string]string{}
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(set, name, nil, 0)
		if err != nil {
			return err
		}
		files[name] = file
		packageTexts(file, token.CONST, func(name, text string) { constants[name] = text })
	}
	for name, file := range files {
		at, err := filepath.Rel(root, name)
		if err != nil {
			return err
		}
		keep := func(text string) {
			if hasWords(text) {
				found[text] = filepath.ToSlash(at)
			}
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if call, ok := n.(*ast.CallExpr); ok {
				takeSaid(call, constants, keep)
			}
			return true
		})
		if slices.Contains(tables, filepath.ToSlash(filepath.Dir(at))) && !strings.HasSuffix(name, "_templ.go") {
			packageTexts(file, token.VAR, func(_, text string) {
				if isProse(text) {
					keep(text)
				}
			})
		}
	}
	return nil
}

// takeSaid gives the texts of one call of a sayer.
func takeSaid(call *ast.CallExpr, constants map[string]string, keep func(string)) {
	name := ""
	switch f := call.Fun.(type) {
	case *ast.SelectorExpr:
		name = f.Sel.Name
		if from, ok := f.X.(*ast.Ident); !ok || name != "Inputf" && from.Name != "lang" && from.Name != "fault" {
			return
		}
	case *ast.Ident:
		if name = f.Name; name != "Inputf" {
			return
		}
	}
	if name == "C" && len(call.Args) == 2 {
		text, ok := constant(call.Args[0], constants)
		of, also := constant(call.Args[1], constants)
		if ok && also {
			keep(text + " (" + of + ")")
		}
		return
	}
	skip, take := sayers[name][0], sayers[name][1]
	for i := skip; i < skip+take && i < len(call.Args); i++ {
		if text, ok := constant(call.Args[i], constants); ok {
			keep(text)
		}
	}
}

// constant reads a text that is written out, joined of such, or a constant of the package.
func constant(x ast.Expr, constants map[string]string) (string, bool) {
	switch x := x.(type) {
	case *ast.BasicLit:
		text, err := strconv.Unquote(x.Value)
		return text, err == nil && x.Kind == token.STRING
	case *ast.Ident:
		text, ok := constants[x.Name]
		return text, ok
	case *ast.BinaryExpr:
		left, ok := constant(x.X, constants)
		right, also := constant(x.Y, constants)
		return left + right, ok && also
	}
	return "", false
}

// packageTexts gives the texts in a file's package-level constants or variables.
func packageTexts(file *ast.File, tok token.Token, keep func(name, text string)) {
	for _, decl := range file.Decls {
		decl, ok := decl.(*ast.GenDecl)
		if !ok || decl.Tok != tok {
			continue
		}
		for _, spec := range decl.Specs {
			spec := spec.(*ast.ValueSpec)
			for i, value := range spec.Values {
				ast.Inspect(value, func(n ast.Node) bool {
					switch n := n.(type) {
					case *ast.FuncLit:
						return false // its texts are said by sayers
					case *ast.BasicLit:
						if text, err := strconv.Unquote(n.Value); err == nil && n.Kind == token.STRING {
							keep(spec.Names[min(i, len(spec.Names)-1)].Name, text)
						}
					}
					return true
				})
			}
		}
	}
}

var (
	word   = regexp.MustCompile(`\pL{2,}`)
	label  = regexp.MustCompile(`^[A-Z][a-z]+[.?:]?$`)
	slots  = regexp.MustCompile(`%(\[\d+\])?[-+#0]*\d*(\.\d+)?[a-zA-Z]`)
	markup = regexp.MustCompile(`[<>{}=]|^[a-z-]+/[a-z-]+$`)
)

func hasWords(text string) bool { return word.MatchString(slots.ReplaceAllString(text, "")) }

// isProse tells words for a person from names for the program.
func isProse(text string) bool {
	if markup.MatchString(text) {
		return false
	}
	return label.MatchString(text) || strings.Contains(strings.TrimSpace(text), " ") && len(word.FindAllString(text, -1)) > 1
}

// sheetWords reads the words of layouts and demo sheets.
func sheetWords(root string, found map[string]string) error {
	var names []string
	for _, folder := range sheets {
		here, err := filepath.Glob(filepath.Join(root, folder, "*.json"))
		if err != nil || len(here) == 0 {
			return errors.Join(err, fmt.Errorf("no sheet was found in %s", folder))
		}
		names = append(names, here...)
	}
	for _, name := range names {
		body, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		var tree any
		if err := json.Unmarshal(body, &tree); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		at, err := filepath.Rel(root, name)
		if err != nil {
			return err
		}
		inTree(tree, "", func(text string) { found[text] = filepath.ToSlash(at) })
	}
	return nil
}

func inTree(node any, field string, keep func(string)) {
	switch node := node.(type) {
	case map[string]any:
		for _, key := range slices.Sorted(maps.Keys(node)) {
			inTree(node[key], key, keep)
		}
	case []any:
		for _, one := range node {
			inTree(one, field, keep)
		}
	case string:
		if sheetTexts[field] && (isProse(node) || field == "name" || field == "place") {
			keep(node)
		}
	}
}
