package sqlite_test

import (
	"context"
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"strutcard/server/shop"
	"strutcard/server/sqlite"
	"strutcard/sync/event"
	"strutcard/sync/store"
	"strutcard/sync/store/storetest"
)

// The driver is translated C over a library of its own: with another version of
// that library than the driver was made for, it crashes after hours.
func TestDriverHasItsOwnLibrary(t *testing.T) {
	used := golist(t, "-f", "{{.Version}}", "modernc.org/libc")
	var wants struct {
		Require []struct{ Path, Version string }
	}
	if err := json.Unmarshal(goTool(t, "mod", "edit", "-json", golist(t, "-f", "{{.GoMod}}", "modernc.org/sqlite")), &wants); err != nil {
		t.Fatal(err)
	}
	for _, r := range wants.Require {
		if r.Path == "modernc.org/libc" {
			if r.Version != used {
				t.Errorf("modernc.org/libc is %s, but modernc.org/sqlite was made for %s: go get modernc.org/libc@%[2]s", used, r.Version)
			}
			return
		}
	}
	t.Fatalf("modernc.org/sqlite asks for no modernc.org/libc: %+v", wants)
}

func golist(t *testing.T, args ...string) string {
	t.Helper()
	return strings.TrimSpace(string(goTool(t, append([]string{"list", "-m"}, args...)...)))
}

func goTool(t *testing.T, args ...string) []byte {
	t.Helper()
	out, err := exec.Command("go", args...).Output()
	if err != nil {
		t.Fatalf("go %v: %v", args, err)
	}
	return out
}

// A query inside another would wait for a second connection until it is cut. One
// reader must do.
func TestOneReaderIsEnough(t *testing.T) {
	one := func(t *testing.T) *sqlite.DB {
		db := openYard(t, sqlite.Options{Query: 2 * time.Second})
		db.Readers().SetMaxOpenConns(1)
		return db
	}
	storetest.Run(t, func(t *testing.T) store.Store { return one(t).Shop(yard) })
	db := one(t)
	p := joined(t, db)
	if stored, _ := outcomes(t, p.sync(t, storetest.Notes(t, storetest.NewID[event.JobID](), storetest.NewID[event.DeviceID](), 5)...)); stored != 5 {
		t.Errorf("%d events stored, want 5", stored)
	}
	if rows := queue(t, db, shop.Filter{}); len(rows) != 1 {
		t.Errorf("%d rows in the queue, want 1", len(rows))
	}
	if err := db.Rebuild(context.Background()); err != nil {
		t.Errorf("rebuild: %v", err)
	}
}

// Rows are walked in one place, which runs nothing else meanwhile.
func TestRowsAreWalkedInOnePlace(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) < 10 {
		t.Fatalf("only %d files were looked at: %v", len(files), err)
	}
	found := false
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		source, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		tree, err := parser.ParseFile(token.NewFileSet(), name, source, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			if s, ok := n.(*ast.SelectorExpr); ok && s.Sel.Name == "Next" {
				if found = true; name != "rows.go" {
					t.Errorf("%s walks rows by itself: use collect", name)
				}
			}
			return true
		})
	}
	if !found {
		t.Error("no rows are walked at all: the rule looks at nothing")
	}
}
