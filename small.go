//go:build js && !whole

package slopewright

import "github.com/slopewright/slopewright/internal/draw"

// The small program, which every visitor's browser loads, answers plans and
// draws the long section; what is in whole.go would add a tenth to it. The page
// loads the whole one when somebody asks for more.

// Drawings are the names that [Result.Draw] knows.
func Drawings() []string { return []string{"section"} }

func (r Result) otherDrawing(Drawing, draw.Look) string { return "" }

func (r *Result) more(Request, *maker) error { return nil }

// priced stands before anything is reckoned: it refuses at once.
func (q *Request) priced() error {
	var all Faults
	refuse := func(field string) {
		all.Add(field, "", "is not done by this program, the small one", "ask the whole one, slopewright-whole.wasm")
	}
	if q.Choices {
		refuse("choices")
	}
	if len(q.Sheets) > 0 {
		refuse("sheets")
	}
	if len(q.Tables) > 0 {
		refuse("tables")
	}
	if q.PriceList != "" || q.Op == "prices" {
		refuse("price_list")
	}
	if q.Compare != nil {
		refuse("compare")
	}
	return all.Err()
}

func (q *Request) pricesDocument() (any, error) { return nil, q.priced() }
