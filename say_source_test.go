package slopewright

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

var (
	verbs     = regexp.MustCompile(`%[-+# 0-9.]*[a-z%]|\{[n=w]?\}`)
	twoWords  = regexp.MustCompile(`[A-Za-z]{2,} [A-Za-z]{2,}`)
	notToTell = regexp.MustCompile(`^(docjson|slopewright|materials|earthwork|stair|font|<|[a-z-]+="|M \d)|(?s)\n(set|let|use) \|`)
	ends      = regexp.MustCompile(`^[^A-Za-z0-9"“]+|[^A-Za-z0-9)°%"”]+$`)
	full      = regexp.MustCompile(`\. `)
)

// notTold are the literals of two words and more that nobody is told, by what
// stands in them.
var notTold = []string{
	// Nobody is told of a document that was written wrongly by a program.
	"no reading for", "does not encode", "no schema for", "no writing for", "bad range tag", "is infinite or none at all", "the faults could not be written",
	// A schema's own words, and what tells one text from another.
	"version 1", "a number is ", "Says Name Source", "Problem Fix", "Station FromHead", "barrow on the level", "barrow on a slope", "is beyond its limit", "font-family",
	// Parts of texts that stand in the words with their numbers.
	"For riser 1", "less than 1/16 in", "write metres between -1000000", "1 in to", "is further from path", "at than path", "is missing, and labour",
	"at least (makes", "no layout fits: no number", "a JSON object that begins", "or one length", "at flights", "landing fills the run of",
	"m³ more to dig", "cu ft for every foot", "clear water", "an active worker does", "a very lazy worker does", "Schwab et al.",
	// Tables of rules, which the plans of the other test go through.
	"edition | as remembered", "| stop |",
	// What only Go programs meet that use a package by itself: an angle of a tread
	// set by hand, a survey by pacing, names of woods and sections.
	"the rise of a flight", "costs too large", "is not a cost", "price every cell", "2R + T = 26 in", "Cyclopedia of Architecture", "is not the number of cells", "is not a distance from the edge",
	"above the path", "working space beside the path", "sides cut back", "give the length along the slope", "give the height between the ends", "end named in from", "length of string between two supports",
	"length between two supports", "eye height", "height of the eye", "what the rod read at the last", "the known distance", "length of one pace", "length of the line of levels",
	"trench to 1.5 m", "pit to 1.5 m", "it may be fissured", "soft, unconfined", "a class from 1", "loose over bank volume", "less compacted over bank volume", "parts of the usual digging", "degrees from the level",
	"area to spread soil", "more than 0 and at most 1e9 m", "depth to spread soil", "three by three", "odd number of them", "table of n", "earth with", "short grass", "dense grass", "grass swale", "water-quality", "smooth plastic", "corrugated pipe",
	"Exhibit 620-1", "for loose; compacted is", "the loose density", "the density in place", "give 0 for", "give 0, or 0.1 m", "as factory_ends", "name the section", "the section of a piece", "as in the pieces", "known by name", "a section of the list",
	"lengths that are not wanted", "is given twice, as stock", "many digits", "wet service factors", "Southern Pine", "Douglas Fir", "Hem-Fir", "Spruce-Pine", "posts and timbers", "NDS 4.3.9",
	"labels of premixed", "lb bag", "kg bag", "radius-edge", "has no name", "give the section a name", "more than the width", "the smaller side", "PS 20", "in millimetres", "actual size", "railway sleeper", "BS EN 336", "ASTM A615", "metric reinforcing",
	"is not from 0 to 0.1", "forward fall of the treads", "fraction of an inch to print",
	"is tied back", "in every second course", "into the bank, level", "on the far end", "and a bar through both",
}

// Every text of two words and more in the sources that results, faults and
// drawings are made of stands in the Spanish words: what no test plan brings out
// as well.
func TestSourcesAreInSpanish(t *testing.T) {
	catalogue, err := os.ReadFile("internal/lang/es.txt")
	if err != nil {
		t.Fatal(err)
	}
	var known strings.Builder
	for _, line := range strings.Split(string(catalogue), "\n") {
		english, _, _ := strings.Cut(line, " → ")
		known.WriteString(strings.ToLower(verbs.ReplaceAllString(english, "\x00")) + "\n")
	}
	all := known.String()
	var files []string
	for _, dir := range []string{".", "stair", "earthwork", "materials", "internal/docjson", "internal/tape", "internal/draw"} {
		found, err := filepath.Glob(filepath.Join(dir, "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, found...)
	}
	looked := 0
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		set := token.NewFileSet()
		a, err := parser.ParseFile(set, f, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		tags := map[*ast.BasicLit]bool{}
		alone := strings.HasPrefix(f, "stair") || strings.HasPrefix(f, "earthwork") || strings.HasPrefix(f, "materials")
		ast.Inspect(a, func(n ast.Node) bool {
			switch x := n.(type) {
			case *ast.Field:
				tags[x.Tag] = true
			case *ast.CallExpr:
				if id, ok := x.Fun.(*ast.Ident); ok && id.Name == "panic" {
					return false
				}
				// A document meets the faults of the document's reading before those
				// that a package has for the Go programs that use it alone.
				if f, ok := x.Fun.(*ast.SelectorExpr); ok && alone && strings.HasPrefix(f.Sel.Name, "Add") {
					return false
				}
			case *ast.BasicLit:
				if x.Kind != token.STRING || tags[x] {
					break
				}
				s, _ := strconv.Unquote(x.Value)
				if notToTell.MatchString(s) {
					break
				}
				for _, piece := range verbs.Split(full.ReplaceAllString(s, "%s"), -1) {
					piece = ends.ReplaceAllString(piece, "")
					if !twoWords.MatchString(piece) {
						continue
					}
					looked++
					if !strings.Contains(all, strings.ToLower(piece)) && !whollyNotTold(piece) {
						t.Errorf("%s: %q", set.Position(x.Pos()), piece)
					}
				}
			}
			return true
		})
	}
	if looked < 1000 {
		t.Errorf("only %d texts were looked at", looked)
	}
}

func whollyNotTold(piece string) bool {
	for _, x := range notTold {
		if strings.Contains(piece, x) {
			return true
		}
	}
	return false
}
