//go:build !js || whole

package slopewright

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// longPath is a plan of so many risers in flights of ten, every one a box flight or two
// of three framed.
func longPath(t *testing.T, risers int, framed bool, units string) (Plan, Result) {
	t.Helper()
	var flights []string
	run := 0.0
	for i := range risers / 10 {
		kind, tread := "box", 0.36
		if framed && i%3 < 2 {
			kind, tread = "framed", 0.28
		}
		f := fmt.Sprintf(`{"kind": %q, "risers": 10, "tread": "%g mm"`, kind, 1000*tread)
		if run += 9 * tread; i < risers/10-1 {
			f += `, "landing": "1.2 m"`
			run += 1.2
		}
		flights = append(flights, f+"}")
	}
	rise := 0.15 * float64(risers)
	p, err := ReadPlan([]byte(fmt.Sprintf(`{"format": "slopewright.plan/1", "title": "A long path", "units": %q, "path": {"width": "1.25 m"},
		"ground": {"method": "levels", "readings": [{"at": 0, "level": 0}, {"at": %.3f, "level": %.3f, "crossfall": 0.05}, {"at": %.3f, "level": %.3f}]},
		"steps": {"rules": "own", "kinds": ["box", "framed"], "fixed": [%s]}}`, units, run/2, 0.51*rise, run, rise, strings.Join(flights, ","))))
	if err != nil {
		t.Fatal(err)
	}
	r, err := Make(p)
	if err != nil {
		t.Fatal(err)
	}
	return p, r
}

// The field sheet of a long path is laid out as that of a short one: nothing is wider
// than its room, and it takes no more pages than its stakes do. Set CHROMIUM to the
// browser.
func TestLongFieldSheetInBrowser(t *testing.T) {
	browser := os.Getenv("CHROMIUM")
	if browser == "" {
		t.Skip("CHROMIUM names no browser")
	}
	t.Parallel() // another browser runs beside
	var docs, names []string
	for most, risers := range map[int]int{3: 30, 4: 40, 5: 80} {
		for _, framed := range []bool{false, true} {
			for _, units := range []string{"metric", "imperial"} {
				p, r := longPath(t, risers, framed, units)
				paper := map[string]string{"metric": "a4", "imperial": "letter"}[units]
				for _, x := range []Result{r, Language("es").Result(r, p)} {
					doc := x.Sheet(SheetOptions{Kind: "field", Plan: &p})
					name := fmt.Sprintf("%d risers, framed %v, %s, %q", risers, framed, units, x.Title)
					docs, names = append(docs, asPrinted(string(doc), paper)), append(names, name)
					if framed != (units == "metric") { // printing takes its time
						continue
					}
					if pages := readPrinted(t, printSheet(t, browser, doc)); len(pages) < 2 || len(pages) >= most+1 {
						t.Errorf("%s: %d pages", name, len(pages))
					}
				}
			}
		}
	}
	for i, found := range lookedOver(t, browser, docs...) {
		if found != "" {
			t.Errorf("%s: %s", names[i], found)
		}
	}
}

// What room there is for stakes: set close where a page then holds them all, and small
// where feet and sixteenths are long.
func TestStakesTakeTheirRoom(t *testing.T) {
	for _, c := range []struct {
		risers      int
		units, want string
	}{{20, "metric", `class="stake"`}, {30, "metric", `class="stake close"`}, {40, "metric", `class="stake"`}, {30, "imperial", `class="stake close long"`}, {80, "imperial", `class="stake long"`}} {
		p, r := longPath(t, c.risers, false, c.units)
		doc := string(r.Sheet(SheetOptions{Kind: "field", Plan: &p}))
		if !strings.Contains(doc, c.want) {
			t.Errorf("%d risers, %s: no %s", c.risers, c.units, c.want)
		}
		// What is small stands before the stakes, so that no page has it alone.
		if trench, stakes := strings.Index(doc, "Trenches"), strings.Index(doc, "Stake-out"); trench < 0 || trench > stakes {
			t.Errorf("%d risers, %s: the trenches stand at %d, the stakes at %d", c.risers, c.units, trench, stakes)
		}
	}
}
