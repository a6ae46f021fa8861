package main

import (
	"encoding/json"
	"errors"
	"slices"
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"

	"github.com/slopewright/slopewright/materials"
	"github.com/slopewright/slopewright/stair"
)

// job is what a line asks for.
type job struct {
	rise, run, width unit.Length
	rules            stair.RuleSet
	limits           stair.Limits
	maxCut, maxRaise unit.Length
	detail           materials.BoxDetail
	stock            []materials.Stock
	saw              materials.CutOptions
	prices           materials.PriceList
}

// The usual where a job says nothing; all of it common practice.
const (
	usualWash  = 0.02
	usualCut   = 1.2 * unit.Meter
	usualRaise = 0.1 * unit.Meter
	usualKerf  = 3 * unit.Millimeter
)

// price answers the job in a line: an estimate, or the job's faults.
func (a *answer) price(text []byte) {
	o, ok := readObject("", text, &a.Faults)
	if !ok {
		return
	}
	if id, ok := o.take("id", false); ok {
		if a.ID = id; !strings.ContainsRune(`"-0123456789`, rune(id[0])) {
			a.ID = nil
			o.add("id", string(id), "is not a name", "write a text in quotes or a number")
		}
	}
	var j job
	j.readPath(o)
	fits := len(a.Faults) == 0
	j.readGoods(o)
	o.end()

	// The packages have their own ranges. All of them are asked, so that one
	// answer names all that is wrong; a fit needs a path that could be read.
	var fit stair.Fitted
	if fits {
		var err error
		fit, err = j.fit()
		a.add(err, fitFields)
	}
	if len(j.stock) > 0 {
		_, err := materials.Cut(nil, j.stock, j.saw)
		a.add(err, nil)
	}
	a.add(j.prices.Check(), priceFields)
	if j.detail.Timber.Name != "" {
		a.add(j.detail.Check(), layerFields)
	}
	if len(a.Faults) > 0 {
		return
	}
	e, err := j.buy(fit)
	if a.add(err, boxFields); err == nil {
		a.estimate = e
	}
}

// readPath takes where the path goes and what its steps may be.
func (j *job) readPath(o object) {
	o.length("rise", true, &j.rise, 0.05, 50)
	o.length("run", true, &j.run, 0.1, 100)
	o.length("width", true, &j.width, 0.2, 20)
	var id string
	if !o.text("rules", true, &id) {
	} else if set, ok := stair.RuleSetByID(id); ok {
		j.rules = set
	} else {
		var ids []string
		for _, set := range stair.RuleSets() {
			ids = append(ids, set.ID)
		}
		o.add("rules", id, "is not a rule set", "write one of "+strings.Join(ids, ", "))
	}
	j.limits = j.rules.LimitsFor(stair.Facts{Width: j.width})
	j.limits.Wash = usualWash
	o.object("limits", j.readLimits)
	j.maxCut, j.maxRaise = usualCut, usualRaise
	o.length("max_cut", false, &j.maxCut, 0, 10)
	o.length("max_raise", false, &j.maxRaise, 0, 10)
}

func (j *job) readLimits(o object) {
	l := &j.limits
	for _, x := range []struct {
		name string
		of   *unit.Length
	}{
		{"riser_min", &l.RiserMin}, {"riser_max", &l.RiserMax},
		{"tread_min", &l.TreadMin}, {"tread_max", &l.TreadMax},
		{"landing_min", &l.LandingMin}, {"landing_max", &l.LandingMax},
		{"max_flight_rise", &l.MaxFlightRise}, {"grid", &l.Grid},
	} {
		o.length(x.name, false, x.of, 0, 100)
	}
	o.count("min_flight_risers", &l.MinFlightRisers, 0, 2000)
	o.count("max_flight_risers", &l.MaxFlightRisers, 0, 2000)
	o.number("wash", false, &l.Wash, 0, 0.2, "a ratio")
	o.object("step_rule", func(o object) {
		l.StepRule = &stair.StepRule{}
		o.length("min", false, &l.StepRule.Min, 0, 100)
		o.length("max", false, &l.StepRule.Max, 0, 100)
	})
}

// readGoods takes the timber, the gravel and what they cost.
func (j *job) readGoods(o object) {
	j.detail = materials.DefaultBoxDetail()
	j.detail.Timber = readSection(o, "timber")
	o.read("on_edge", false, &j.detail.OnEdge, "true or false")
	o.object("layers", func(o object) {
		o.length("topping", false, &j.detail.Topping, 0, 2)
		o.length("fill", false, &j.detail.Fill, 0, 2)
		o.length("base", false, &j.detail.Base, 0, 2)
	})
	j.detail.LongestTimber = 0
	o.list("stock", true, func(_ int, o object) {
		s := materials.Stock{Section: readSection(o, "section").Name}
		o.length("length", true, &s.Length, 0.01, 100)
		o.decimal("price", true, &s.Price)
		o.count("available", &s.Available, 0, 1_000_000)
		j.stock = append(j.stock, s)
		if s.Section == j.detail.Timber.Name {
			j.detail.LongestTimber = max(j.detail.LongestTimber, s.Length)
		}
	})
	switch longest := j.detail.LongestTimber; {
	case j.detail.Timber.Name == "" || len(j.stock) == 0:
	case longest == 0:
		o.add("stock", "", "has no length of "+j.detail.Timber.Name+", the timber of the boxes", "add the lengths it is sold in")
	case longest < j.width:
		o.add("stock", metres(longest).String(), "is the longest "+j.detail.Timber.Name+", too short for a riser timber", "add a longer one, or make the path narrower")
	}
	j.saw.Kerf = usualKerf
	o.length("kerf", false, &j.saw.Kerf, 0, 0.1)

	o.text("currency", true, &j.prices.Currency)
	o.decimal("tax", false, &j.prices.Tax)
	o.list("prices", false, func(_ int, o object) {
		var p materials.Price
		if o.text("item", true, &p.Item) && !slices.Contains(materials.Items(), p.Item) {
			o.add("item", p.Item, "is not an item of a take-off", "write one of "+strings.Join(materials.Items(), ", "))
		}
		o.text("name", false, &p.Name)
		o.decimal("price", true, &p.Price)
		o.text("per", true, &p.Per)
		o.decimal("pack", false, &p.Pack)
		o.decimal("least", false, &p.Least)
		o.decimal("holds", false, &p.Holds)
		o.text("holds_per", false, &p.HoldsPer)
		j.prices.Items = append(j.prices.Items, p)
	})
}

func readSection(o object, field string) (s materials.Section) {
	var name string
	if o.text(field, true, &name) {
		var err error
		if s, err = materials.SectionByName(name); err != nil {
			o.faults.Put(o.at+field, err)
		}
	}
	return s
}

func (j *job) ground() slope {
	return slope{
		grade: float64(j.rise) / float64(j.run), width: j.width, depth: j.detail.BuildUp(),
		maxCut: j.maxCut, maxRaise: j.maxRaise,
	}
}

// fit lays out the steps that dig least.
func (j *job) fit() (stair.Fitted, error) {
	return stair.Fit(stair.Point{}, stair.Point{Station: j.run, Level: j.rise}, j.limits, j.ground())
}

// buy takes off the boxes of a layout, cuts the timber and makes the bill.
func (j *job) buy(fit stair.Fitted) (*estimate, error) {
	var boxes []materials.Box
	for _, s := range fit.Layout.Steps {
		boxes = append(boxes, materials.Box{Number: s.Riser, Riser: fit.Layout.Riser, Tread: s.Tread, Width: j.width, Landing: s.Landing})
	}
	off, err := materials.TakeOff(boxes, j.detail)
	if err != nil {
		return nil, err
	}
	cut, err := materials.Cut(off.Pieces, j.stock, j.saw)
	if err != nil {
		return nil, err
	}
	bill, err := materials.MakeBill(off.Treat(cut), cut, j.prices)
	if err != nil {
		return nil, err
	}
	facts := stair.Facts{Width: j.width, Drop: j.ground().drop(fit.Layout)}
	return newEstimate(fit, off, cut, bill, j.rules.Check(fit.Layout, facts)), nil
}

// What the packages call a field, from its beginning, and what it is in a job.
var (
	fitFields = [][2]string{
		{"head.station", "run"}, {"head.level", "rise"}, {"site", "max_cut"}, {"", "limits."},
	}
	priceFields = [][2]string{{"items", "prices"}}
	layerFields = [][2]string{{"topping", "layers.topping"}, {"fill", "layers.fill"}, {"base", "layers.base"}}
	boxFields   = [][2]string{{"boxes.width", "width"}, {"boxes.tread", "limits.tread_min"}, {"boxes.riser", "timber"}, {"detail.", ""}}
)

// add appends the faults of an error by the fields of a job. Boxes are not in
// the job one by one: what is wrong with many of them is told once.
func (a *answer) add(err error, fields [][2]string) {
	var list stair.Faults
	if err != nil && !errors.As(err, &list) {
		a.Faults.Put("", err)
	}
	told := map[string]bool{}
	for _, f := range list {
		if box, field, ok := strings.Cut(f.Field, "]."); ok && strings.HasPrefix(box, "boxes[") {
			f.Field = "boxes." + field
		}
		for _, x := range fields {
			if rest, ok := strings.CutPrefix(f.Field, x[0]); ok {
				f.Field = x[1] + rest
				break
			}
		}
		if key := f.Field + " " + f.Problem; !told[key] {
			told[key] = true
			a.Faults = append(a.Faults, f)
		}
	}
}

// answer is a line of the output.
type answer struct {
	Line int             `json:"line"`
	ID   json.RawMessage `json:"id,omitempty"`
	*estimate
	Faults stair.Faults `json:"faults,omitempty"`

	text []byte
}

// estimate is the answer to a job that will do.
type estimate struct {
	Risers   int             `json:"risers"`
	Riser    metres          `json:"riser"` // height of each
	Treads   int             `json:"treads"`
	Flights  []flight        `json:"flights"`
	Landings []landing       `json:"landings"`
	Dig      metres          `json:"dig"` // cubic metres in the bank
	Pieces   []piece         `json:"pieces"`
	Boards   []board         `json:"boards"`
	Cut      cutCost         `json:"cut"`
	Bill     bill            `json:"bill"`
	Findings []stair.Finding `json:"findings"`

	total decimal.Decimal
}

type flight struct {
	First  int    `json:"first"` // riser
	Risers int    `json:"risers"`
	Tread  metres `json:"tread"`
}

type landing struct {
	After int    `json:"after"` // riser
	Depth metres `json:"depth"`
}

type piece struct {
	Section string `json:"section,omitempty"` // of a board's pieces, the board's
	Use     string `json:"use"`
	Length  metres `json:"length"`
	Count   int    `json:"count"`
}

type board struct {
	Section string  `json:"section"`
	Length  metres  `json:"length"`
	Count   int     `json:"count"` // cut alike
	Price   string  `json:"price"` // of one
	Pieces  []piece `json:"pieces"`
	Left    metres  `json:"left"`
}

// cutCost is what all boards cost. Proven says that no way of buying and
// cutting costs less; otherwise none can cost less than Bound.
type cutCost struct {
	Cost   string `json:"cost"`
	Bound  string `json:"bound"`
	Proven bool   `json:"proven"`
}

type bill struct {
	Currency string     `json:"currency"`
	Lines    []billLine `json:"lines"`
	Subtotal string     `json:"subtotal"`
	Tax      string     `json:"tax"`
	Total    string     `json:"total"`
	Unpriced []string   `json:"unpriced,omitempty"` // what the total is without
}

type billLine struct {
	Item  string `json:"item"`
	Name  string `json:"name"`
	Buy   string `json:"buy"`
	Per   string `json:"per"`
	Price string `json:"price,omitempty"`
	Cost  string `json:"cost,omitempty"`
}

func newEstimate(fit stair.Fitted, off materials.Takeoff, cut materials.CutPlan, b materials.Bill, findings []stair.Finding) *estimate {
	money := func(d decimal.Decimal) string { return d.StringFixed(materials.CoinDigits(b.Currency)) }
	price := func(d decimal.Decimal) string {
		return d.StringFixed(max(materials.CoinDigits(b.Currency), -d.Exponent()))
	}
	l := fit.Layout
	e := &estimate{
		Risers: l.Risers, Riser: metres(l.Riser), Treads: l.Risers - 1 - len(l.Landings), Landings: []landing{}, Dig: metres(fit.Cost),
		Cut:      cutCost{money(cut.Cost), money(cut.Bound), cut.Proven},
		Bill:     bill{Currency: b.Currency, Subtotal: money(b.Subtotal), Tax: money(b.Tax), Total: money(b.Total), Unpriced: b.Unpriced},
		Findings: append([]stair.Finding{}, findings...), total: b.Total,
	}
	for _, f := range l.Flights {
		e.Flights = append(e.Flights, flight{f.First, f.Risers, metres(f.Tread)})
	}
	for _, x := range l.Landings {
		e.Landings = append(e.Landings, landing{x.After, metres(x.Depth)})
	}
	for _, p := range off.Pieces {
		e.Pieces = append(e.Pieces, piece{p.Section, p.Use, metres(p.Length), p.Count})
	}
	for _, x := range cut.Boards {
		y := board{Section: x.Section, Length: metres(x.Stock), Count: x.Count, Price: price(x.Price), Left: metres(x.Offcut)}
		for _, p := range x.Pieces {
			if n := len(y.Pieces); n > 0 && y.Pieces[n-1].Use == p.Use && y.Pieces[n-1].Length == metres(p.Length) {
				y.Pieces[n-1].Count++
				continue
			}
			y.Pieces = append(y.Pieces, piece{Use: p.Use, Length: metres(p.Length), Count: 1})
		}
		e.Boards = append(e.Boards, y)
	}
	for _, x := range b.Lines {
		y := billLine{Item: x.Item, Name: x.Name, Buy: x.Buy.String(), Per: x.Per}
		if x.Priced {
			y.Price, y.Cost = price(x.Price), money(x.Cost)
		}
		e.Bill.Lines = append(e.Bill.Lines, y)
	}
	return e
}

// metres are written to a tenth of a millimetre, and cubic ones as fine.
type metres float64

func (m metres) String() string { return strconv.FormatFloat(float64(m), 'f', 4, 64) }

// MarshalJSON implements json.Marshaler.
func (m metres) MarshalJSON() ([]byte, error) {
	x, _ := strconv.ParseFloat(m.String(), 64)
	return strconv.AppendFloat(nil, x, 'f', -1, 64), nil
}
