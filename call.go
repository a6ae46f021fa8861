package slopewright

import (
	"github.com/slopewright/slopewright/internal/docjson"
	"github.com/slopewright/slopewright/stair"
)

// The formats of the documents that [Call] reads and writes beside plans and
// results.
const (
	RequestFormat = "slopewright.request/1"
	ErrorFormat   = "slopewright.error/1"
	AboutFormat   = "slopewright.about/1"
	PricesFormat  = "slopewright.prices/1"
)

// Request asks [Call] for something: op plan (the default) makes the plan, op
// sketch makes it as far as the digging, op about lists what plans can name, op
// prices reads a price list.
type Request struct {
	Format   string    `json:"format" need:"true" one:"slopewright.request/1" doc:"write slopewright.request/1"`
	Op       string    `json:"op,omitempty" one:"plan sketch about prices" doc:"default plan"`
	Plan     *Plan     `json:"plan,omitempty" doc:"the plan document"`
	Drawings []Drawing `json:"drawings,omitempty" most:"8" doc:"the drawings wanted"`
	Tables   []string  `json:"tables,omitempty" one:"takeoff pieces cutplan bill prices" most:"8" doc:"the tables wanted, as comma-separated values"`
	// PriceList is read as [ReadPriceList] reads it.
	PriceList string      `json:"price_list,omitempty" most:"1048576" doc:"a price list as comma-separated values: its prices take the place of the plan's of the same items; op prices answers them as a plan holds them"`
	Compare   *Plan       `json:"compare,omitempty" doc:"another plan, whose bill is set beside this one's"`
	Sheets    []SheetWish `json:"sheets,omitempty" most:"3" doc:"the sheets wanted, each a whole HTML document to print"`
	Lang      string      `json:"lang,omitempty" one:"en es" doc:"the language of the answer's texts; default en"`
	// Stretch draws the flights of steps.fixed out to the ends of the path, wherever these
	// lie: a fit that takes long is spared while one of them, or the ground, is moved.
	Stretch bool `json:"stretch,omitempty" doc:"of op sketch: treads and landings of steps.fixed are drawn out, or in, by as much each, to reach from foot to head"`
	Choices bool `json:"choices,omitempty" doc:"also give the layouts to choose between, which takes some twenty fits"`
}

// Drawing asks for one drawing.
type Drawing struct {
	Name string `json:"name" need:"true" one:"section plan view step across flight stringer cutplan haul choices" doc:"write section, plan, view, step, across, flight, stringer, cutplan, haul or choices"`
	// Flight is which of the framed flights a drawing of one is of.
	Flight int `json:"flight,omitempty" range:"[1,100]" doc:"which framed flight, counted from the foot; default the first"`
	// Width is in CSS pixels; text stays the same size whatever the width.
	Width float64 `json:"width,omitempty" range:"[300,4000]" doc:"width in CSS pixels; default 900"`
	// Prefix begins every id in the drawing, so that several can stand on a
	// page.
	Prefix string `json:"prefix,omitempty" most:"20" doc:"begins every id in the drawing; default sw"`
}

// SheetWish asks for one sheet to print.
type SheetWish struct {
	_     [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Kind  string    `json:"kind" need:"true" one:"build field quote" doc:"write build, field or quote"`
	Paper string    `json:"paper,omitempty" one:"a4 letter" doc:"default letter for imperial plans, otherwise a4"`
}

// ErrorDocument is what [Call] answers when the input will not do.
type ErrorDocument struct {
	Format string  `json:"format"`
	Faults []Fault `json:"faults"`
}

// About lists what a plan document can name.
type About struct {
	Format   string   `json:"format"`
	Version  string   `json:"version"`
	Rules    []Choice `json:"rules"`
	Soils    []Choice `json:"soils"`
	Sections []Choice `json:"sections"`
	Items    []Choice `json:"items" doc:"what can be priced"`
}

// Choice is one thing a document can name.
type Choice struct {
	_       [0]func() // not comparable, which spares code: see DEVELOPERS.md
	ID      string    `json:"id"`
	Name    string    `json:"name"`
	Applies string    `json:"applies,omitempty" doc:"what a rule set is for"`
}

// Call is the one door for programs that hand over bytes: the browser, other
// languages, batch runs. It takes a request document (format
// slopewright.request/1) or a bare plan document and answers a result document,
// a sketch, an about document, a price list or, with every fault listed, an error document (format
// slopewright.error/1). The answer is always one JSON document; Call does not
// panic and its time is bounded, whatever the bytes.
func Call(request []byte) []byte { return CallIn(nil, request) }

// CallIn is Call with words: a request for their language is answered in it.
// Without them it is answered with the words that the program holds; those of a
// browser hold none.
func CallIn(words *Words, request []byte) []byte { return new(Calls).In(words, request) }

// Calls answers requests one after the other, as [CallIn] does, and keeps what makes a
// row of sketches quicker of which each is of the same plan as the one before, but for
// its ground: as while a point of it is moved. The answers are the same. The zero value
// is ready; it is for one call at a time.
type Calls struct {
	plan    docjson.Node // of the last sketch
	earlier stair.Earlier
}

// In answers one request.
func (c *Calls) In(words *Words, request []byte) []byte {
	n, err := docjson.Parse(request)
	var out any
	if err == nil {
		if words, err = words.wanted(n); err == nil {
			if out, err = c.call(n, words); err != nil && words != nil {
				err = words.Faults(err)
			}
		}
	}
	if err == nil {
		var b []byte
		if b, err = docjson.MarshalRounded(out, 0); err == nil {
			return b
		}
	}
	doc := ErrorDocument{Format: ErrorFormat}
	if all, ok := faultsOf(err); ok {
		doc.Faults = all
	} else {
		doc.Faults = []Fault{{Problem: err.Error()}}
	}
	b, err := docjson.Marshal(doc, 0)
	if err != nil {
		return []byte(`{"format":"` + ErrorFormat + `","faults":[{"field":"","problem":"the faults could not be written"}]}`)
	}
	return b
}

func (c *Calls) call(n docjson.Node, words *Words) (any, error) {
	var r Request
	if f, ok := n.Get("format"); ok && f.Kind == docjson.String && f.Text == RequestFormat {
		if p, ok := n.Get("plan"); ok {
			// Said before anything else: a later format has other fields.
			if err := knownFormat(p); err != nil {
				return nil, err
			}
		}
		if err := docjson.Decode(n, &r); err != nil {
			err = stripPlan(err)
			if p, ok := n.Get("plan"); ok && p.Kind == docjson.Object {
				// What could not be read in full was not kept.
				var rest Plan
				_ = docjson.Decode(p, &rest)
				err = alsoWrong(rest, err)
			}
			return nil, err
		}
		if r.Op == "about" {
			a := about()
			if words != nil {
				told(words.speaker(), &a)
			}
			return a, nil
		}
		if r.Op == "prices" {
			return r.pricesDocument()
		}
		if r.Plan == nil {
			return nil, Faults{{Field: "plan", Problem: "is missing", Fix: "put the plan document here"}}
		}
	} else {
		p, err := readPlan(n)
		if err != nil {
			return nil, err
		}
		r.Plan = &p
	}
	if r.Op == "sketch" {
		return sketched(r, words, c.of(n))
	}
	if err := r.priced(); err != nil {
		return nil, err
	}
	m, err := reckon(*r.Plan)
	if err != nil {
		return nil, err
	}
	result := m.result()
	if words != nil {
		result.said = words.speaker(r.plans()...)
	}
	if err := result.more(r, m); err != nil {
		return nil, err
	}
	for _, d := range r.Drawings {
		if result.Drawings == nil {
			result.Drawings = map[string]string{}
		}
		result.Drawings[d.Name] = result.Draw(d)
	}
	told(result.said, &result)
	return result, nil
}

// of is what is kept of earlier sketches for a plan.
func (c *Calls) of(request docjson.Node) *stair.Earlier {
	plan := request
	if p, ok := request.Get("plan"); ok {
		plan = p
	}
	if !sameBut("ground", plan, c.plan) {
		c.earlier = stair.Earlier{}
	}
	c.plan = plan
	return &c.earlier
}

// sameBut is whether two objects are the same but for a member.
func sameBut(name string, a, b docjson.Node) bool {
	if len(a.Fields) != len(b.Fields) {
		return false
	}
	for i, x := range a.Fields {
		if y := b.Fields[i]; x.Name != y.Name || x.Name != name && !x.Value.Equal(y.Value) {
			return false
		}
	}
	return true
}

// stripPlan makes the paths of faults in a request's plan those of the plan
// document, which is what the person who wrote it sees.
func stripPlan(err error) error {
	all, ok := faultsOf(err)
	if !ok {
		return err
	}
	const prefix = "plan."
	for i, f := range all {
		if len(f.Field) > len(prefix) && f.Field[:len(prefix)] == prefix {
			all[i].Field = f.Field[len(prefix):]
		}
	}
	return all
}
