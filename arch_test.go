package slopewright

import (
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

const module = "github.com/slopewright/slopewright"

// What each package may import of this module. Packages below internal may
// import each other; the three working packages may not.
var mayImport = map[string][]string{
	"stair":     {"internal/"},
	"earthwork": {"internal/"},
	"materials": {"internal/"},
	"internal":  {"internal/"},
	"":          {"stair", "earthwork", "materials", "internal/"},
	"wasm":      {""},
	"examples":  {"", "stair", "earthwork", "materials"},
	"site":      {},
}

func TestImportRule(t *testing.T) {
	files := 0
	err := filepath.WalkDir(".", func(path string, d os.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "node_modules" || d.Name() == "build" || strings.HasPrefix(d.Name(), ".") && path != ".") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		files++
		top, _, ok := strings.Cut(filepath.ToSlash(path), "/")
		if !ok {
			top = ""
		}
		allowed, known := mayImport[top]
		if !known {
			t.Errorf("%s: nothing is said of what %q may import", path, top)
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, spec := range f.Imports {
			name, _ := strconv.Unquote(spec.Path.Value)
			if name != module && !strings.HasPrefix(name, module+"/") {
				continue
			}
			rel := strings.TrimPrefix(strings.TrimPrefix(name, module), "/")
			if !matches(rel, allowed) {
				t.Errorf("%s imports %s, which %q may not", path, name, top)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if files < 10 {
		t.Fatalf("only %d files were looked at", files)
	}
}

func matches(rel string, allowed []string) bool {
	for _, a := range allowed {
		if rel == a || a != "" && strings.HasSuffix(a, "/") && strings.HasPrefix(rel, a) {
			return true
		}
	}
	return false
}

// Every snippet of the README stands in a file that is compiled, run or opened
// by a test.
func TestReadmeSnippets(t *testing.T) {
	readme, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	homes := map[string][]string{
		"go":   {"examples/library/main.go", "example_words_test.go"},
		"html": {"examples/embed/index.html"},
		"json": {"testdata/plans/first.json", "testdata/plans/earth.json"},
		"csv":  {"testdata/plans/first.csv"},
	}
	blocks := strings.Split(string(readme), "```")
	seen := 0
	for i := 1; i < len(blocks); i += 2 {
		lang, code, _ := strings.Cut(blocks[i], "\n")
		files, ok := homes[lang]
		if !ok {
			continue
		}
		seen++
		found := false
		for _, f := range files {
			src, err := os.ReadFile(f)
			if err == nil && strings.Contains(string(src), strings.TrimSpace(code)) {
				found = true
			}
		}
		if !found {
			t.Errorf("this %s snippet of the README is in none of %v:\n%s", lang, files, code)
		}
	}
	if seen < 3 {
		t.Errorf("only %d snippets were looked at", seen)
	}
}
