package slopewright

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/docjson"
	"github.com/slopewright/slopewright/internal/fault"
	"github.com/slopewright/slopewright/materials"
)

// Cut says how boards are chosen and cut, beside the kerf and trim of [Build].
type Cut struct {
	KeepFrom      *Length       `json:"keep_from,omitempty" range:"(0,10]" doc:"the least offcut that is worth keeping; default 2 ft or 600 mm"`
	FactoryEnds   []FactoryEnds `json:"factory_ends,omitempty" most:"50" doc:"pieces that must keep ends the board came with, such as side timbers in wet ground"`
	LongestBoard  *Length       `json:"longest_board,omitempty" range:"(0,20]" doc:"the longest board that can be brought, as on a car's roof; default no limit"`
	HeaviestBoard *Mass         `json:"heaviest_board,omitempty" range:"(0,2000]" doc:"the heaviest board that can be carried; default no limit"`
	Density       *Quantity     `json:"density,omitempty" unit:"kg/m3" range:"[100,2000]" doc:"of the boards as they are carried, kg/m³, or as \"100 lb/ft3\"; default 1168, timber wet from treatment"`
	Then          string        `json:"then,omitempty" one:"boards patterns" doc:"what is made least at equal cost: boards, or different ways of cutting them; default boards"`
}

// FactoryEnds says that the pieces of a use must keep ends that the board came
// with.
type FactoryEnds struct {
	Use  string `json:"use" need:"true" one:"riser-timber side-timber cross-piece landing-timber foot-timber bank-timber deadman deadman-cross-piece face-board stringer tread-board riser-board ledger post beam joist deck-board guard-post guard-rail baluster handrail" doc:"write the item that the pieces are, such as side-timber"`
	Ends int    `json:"ends" need:"true" range:"[1,2]" doc:"write 1, or 2 for a whole board of just that length"`
}

// Mass is a mass as a document holds it, with the text it was typed as.
type Mass struct {
	unit.Mass
	Text string
}

const massFix = `write pounds or kilograms in quotation marks such as "150 lb" or "70 kg", or a number of kilograms`

// ReadNode reads pounds or kilograms in words or a number of kilograms.
func (m *Mass) ReadNode(n docjson.Node) error {
	x, err := readMeasure(n, &m.Text, fault.Fault{Problem: "is not a mass", Fix: massFix}, measure{"kg", float64(unit.Kilogram)}, measure{"lb", float64(unit.AvoirdupoisPound)})
	m.Mass = unit.Mass(x)
	return err
}

type measure struct {
	name string
	by   float64
}

// readMeasure reads a number of the first measure, or text of a number and one of
// them, which is kept.
func readMeasure(n docjson.Node, typed *string, no fault.Fault, all ...measure) (float64, error) {
	text, by := n.Text, all[0].by
	switch n.Kind {
	case docjson.Number:
	case docjson.String:
		by = 0
		text = strings.ReplaceAll(strings.TrimSpace(text), "²", "2")
		for _, x := range all {
			if rest, ok := strings.CutSuffix(text, x.name); ok {
				text, by = strings.TrimSpace(rest), x.by
				break
			}
		}
		*typed = n.Text
	default:
		return 0, no
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || by == 0 || !(x > -1e9 && x < 1e9) {
		return 0, no
	}
	return x * by, nil
}

// JSONSchema is the schema of a mass in a document.
func (*Mass) JSONSchema() map[string]any {
	return map[string]any{
		"anyOf": []any{
			map[string]any{"type": "number"},
			map[string]any{"type": "string", "minLength": 3, "maxLength": 64},
		},
		"$comment": `"150 lb", "70 kg"; a number is kilograms`,
	}
}

// SI is the mass in kilograms.
func (m *Mass) SI() float64 { return m.Kilograms() }

// Bound writes a bound in both systems.
func (*Mass) Bound(kg float64) string {
	return number(kg, 3) + " kg (" + number(unit.Mass(kg*float64(unit.Kilogram)).AvoirdupoisPounds(), 0) + " lb)"
}

// AppendJSON appends the mass as it was typed, or as a number of kilograms.
func (m Mass) AppendJSON(b []byte) []byte { return appendTyped(b, m.Text, m.Kilograms()) }

// MarshalJSON implements json.Marshaler.
func (m Mass) MarshalJSON() ([]byte, error) { return m.AppendJSON(nil), nil }

// AreaLoad is a load by level area as a document holds it, with the text it was
// typed as. It is in kN/m²: a field of unit.Pressure would bring the names of all
// that type's methods into the browser's program.
type AreaLoad struct {
	_    [0]func() // not comparable, which spares code: see DEVELOPERS.md
	KN   float64
	Text string
}

const (
	psf     = 0.04788025898033584 // kN/m²: 1 lbf is 0.45359237 × 9.80665 N
	loadFix = `write pounds a square foot or kilonewtons a square metre in quotation marks such as "40 psf" or "2 kN/m2", or a number of kN/m²`
)

// ReadNode reads pounds a square foot or kilonewtons a square metre in words or a
// number of kilonewtons.
func (l *AreaLoad) ReadNode(n docjson.Node) error {
	var err error
	l.KN, err = readMeasure(n, &l.Text, fault.Fault{Problem: "is not a load by area", Fix: loadFix}, measure{"kN/m2", 1}, measure{"kPa", 1}, measure{"psf", psf})
	return err
}

// JSONSchema is the schema of a load in a document.
func (*AreaLoad) JSONSchema() map[string]any {
	return map[string]any{
		"anyOf": []any{
			map[string]any{"type": "number"},
			map[string]any{"type": "string", "minLength": 4, "maxLength": 64},
		},
		"$comment": `"40 psf", "2 kN/m2"; a number is kN/m²`,
	}
}

// SI is the load as a document's number is, in kN/m².
func (l *AreaLoad) SI() float64 { return l.KN }

// Bound writes a bound in both systems.
func (*AreaLoad) Bound(kn float64) string {
	return number(kn, 3) + " kN/m2 (" + number(kn/psf, 1) + " psf)"
}

// AppendJSON appends the load as it was typed, or as a number of kN/m².
func (l AreaLoad) AppendJSON(b []byte) []byte { return appendTyped(b, l.Text, l.KN) }

// MarshalJSON implements json.Marshaler.
func (l AreaLoad) MarshalJSON() ([]byte, error) { return l.AppendJSON(nil), nil }

// readCut takes the stock and how it is cut.
func (m *maker) readCut(all *Faults) {
	b, c := m.plan.Build, m.plan.Cut
	o := materials.CutOptions{
		Kerf: lengthOr(b.Kerf, m.either(unit.Inch/8, 3*unit.Millimeter)), Trim: lengthOr(b.Trim, 0),
		KeepFrom:     lengthOr(c.KeepFrom, m.either(2*unit.Foot, 600*unit.Millimeter)),
		Dressed:      m.dressed,
		LongestBoard: lengthOr(c.LongestBoard, 0), Density: materials.Density(quantityOr(c.Density, 0)),
	}
	if c.HeaviestBoard != nil {
		o.HeaviestBoard = c.HeaviestBoard.Mass
	}
	if c.Then == "patterns" {
		o.Then = materials.FewestPatterns
	}
	used := map[string]bool{}
	for i, e := range c.FactoryEnds {
		if used[e.Use] {
			all.Add(fmt.Sprintf("cut.factory_ends[%d].use", i), e.Use, "is there already", "write each use once")
		}
		used[e.Use] = true
		o.FactoryEnds = append(o.FactoryEnds, materials.FactoryEnds{Use: e.Use, Ends: e.Ends})
	}
	m.cut = o
	for i, s := range m.plan.Stock {
		at := func(name string) string { return fmt.Sprintf("stock[%d].%s", i, name) }
		section, err := materials.FramedSectionByName(s.Section)
		if err != nil {
			all.Add(at("section"), s.Section, "is not a section in the tables", "write one of "+m.sections())
			continue
		}
		x := materials.Stock{Section: section.Name, Length: s.Length.Length, Unpriced: s.Price == nil, CutEnds: s.CutEnds}
		if s.Price != nil {
			x.Price = s.Price.Decimal
		}
		switch {
		case s.OnHand > 0:
			if s.Price != nil {
				all.Add(at("price"), s.Price.String(), "is given for what is on hand", "leave the price out, or write what can be bought as another entry")
			}
			if s.Available != nil {
				all.Add(at("available"), strconv.Itoa(*s.Available), "is given for what is on hand", "write how many there are as on_hand alone")
			}
			x.Unpriced, x.Available = false, s.OnHand
		case s.Available != nil:
			if *s.Available == 0 {
				continue
			}
			x.Available = *s.Available
		}
		m.stock = append(m.stock, x)
		m.stockFrom = append(m.stockFrom, i)
	}
	m.framedLongest()
}

// usualTimber gives the boxes' timber its usual lengths where the plan has no
// stock but what is on hand.
func (m *maker) usualTimber() {
	for _, s := range m.stock {
		if !onHand(s) {
			return
		}
	}
	m.stock = append(m.stock, materials.UsualStock(m.detail.Timber)...)
}

// sold says whether a section can be bought at all.
func (m *maker) sold(section string) bool {
	for _, s := range m.stock {
		if s.Section == section && !onHand(s) {
			return true
		}
	}
	return false
}

// onHand says that a stock entry is here already.
func onHand(s materials.Stock) bool { return !s.Unpriced && s.Price.IsZero() && s.Available > 0 }

// longest is the longest of a section that can be bought, brought and carried.
func (m *maker) longest(section string) unit.Length {
	var most unit.Length
	s, err := m.cut.Dressed.ByName(section)
	if err != nil {
		return 0
	}
	density := m.cut.Density
	if density == 0 {
		density = materials.WetTimber
	}
	for _, x := range m.stock {
		switch {
		case x.Section != section || onHand(x) || x.Length <= most:
		case m.cut.LongestBoard > 0 && x.Length > m.cut.LongestBoard:
		case m.cut.HeaviestBoard > 0 && density.Of(s.Volume(x.Length)) > m.cut.HeaviestBoard:
		default:
			most = x.Length
		}
	}
	return most
}

// cutFaults gives the faults of a cut plan the fields of the document: of a
// piece, which the document does not name, its use and length.
func (m *maker) cutFaults(err error, pieces []materials.Piece) error {
	all, ok := faultsOf(err)
	if !ok {
		return err
	}
	for i := range all {
		f := &all[i]
		list, rest, _ := strings.Cut(f.Field, "[")
		index, rest, _ := strings.Cut(rest, "]")
		n, err := strconv.Atoi(index)
		switch {
		case err == nil && list == "pieces" && n < len(pieces):
			p := pieces[n]
			f.Field, f.Got = "stock", m.words.length(p.Length)
			f.Problem = itemName(p.Use) + " of " + p.Section + " " + f.Problem
		case err == nil && list == "stock" && n < len(m.stockFrom):
			f.Field = "stock[" + strconv.Itoa(m.stockFrom[n]) + "]" + rest
		case f.Field != "stock":
			f.Field = "cut." + f.Field
		}
	}
	return all
}

// unpricedTimber is the sections that are bought by length because a price is
// missing.
func (m *maker) unpricedTimber() []string {
	var out []string
	for _, g := range m.cutplan.Groups {
		if !g.Priced {
			out = append(out, g.Section)
		}
	}
	return out
}

// shortSides is what is said of side timbers that are mere blocks, where they are many:
// such pieces split at their fastenings. From how short on is common practice; no
// published figure was found.
func (m *maker) shortSides() string {
	short := m.either(12*unit.Inch, 300*unit.Millimeter)
	n, all, least := 0, 0, short
	for _, p := range m.takeoff.Pieces {
		if p.Use != materials.ItemSideTimber {
			continue
		}
		all += p.Count
		if p.Length < short-unit.Millimeter {
			n += p.Count
			least = min(least, p.Length)
		}
	}
	if n < 6 {
		return ""
	}
	w := m.words
	return strconv.Itoa(n) + " of " + strconv.Itoa(all) + " side timbers are shorter than " + w.length(short) + ", the shortest " + w.length(least) +
		": so short, they split easily at pins and screws (common practice). Treads " + w.length(short-least) + " deeper, or narrower timber, would make all of them long enough."
}

func (m *maker) cutplanResult() CutPlanResult {
	w := m.words
	out := CutPlanResult{Boards: []Board{}, Proven: m.cutplan.Proven, By: m.by()}
	if out.By == "cost" {
		cost, bound := m.coins(m.cutplan.Cost), m.coins(m.cutplan.Bound)
		out.Cost, out.Bound = &cost, &bound
	}
	for _, n := range m.cutplan.Notes {
		// What was rounded is a thousandth of a millimetre: nobody's concern.
		if n.Item != materials.NoteRounded && n.Item != materials.NoteUnpriced {
			out.Notes = append(out.Notes, sentence(n.Says))
		}
	}
	if names := m.unpricedTimber(); len(names) > 0 {
		out.Notes = append(out.Notes, sentence("there are no prices of "+list(names)+": of that timber the plan buys the least length"))
	}
	if m.cut.Trim == 0 && len(m.cutplan.Boards) > 0 {
		out.Notes = append(out.Notes, "No length is counted for squaring rough ends: the plan can set one for each board.")
	}
	if s := m.shortSides(); s != "" {
		out.Notes = append(out.Notes, s)
	}
	for _, b := range m.cutplan.Boards {
		x := Board{Count: b.Count, Section: b.Section, Length: b.Stock, Offcut: b.Offcut, OnHand: b.OnHand, FarEnd: b.FarEnd}
		var pieces []string
		for _, p := range b.Pieces {
			x.Pieces = append(x.Pieces, BoardPiece{Use: p.Use, Length: p.Length, FactoryEnds: p.FactoryEnds})
			says := w.length(p.Length) + " " + itemName(p.Use)
			switch p.FactoryEnds {
			case 1:
				says += " with a factory end"
			case 2:
				says += " with both factory ends"
			}
			pieces = append(pieces, says)
		}
		x.Says = count(b.Count, "board", "boards") + " " + b.Section + " of " + w.distanceSold(b.Stock)
		if b.OnHand {
			x.Says += ", on hand"
		}
		x.Says += ": cut " + strings.Join(alike(pieces), ", ") + ", "
		switch {
		case b.Offcut <= 0:
			x.Says += "nothing left."
		case b.FarEnd:
			x.Says += "the last from the far end, " + w.length(b.Offcut) + " left between."
		default:
			x.Says += w.length(b.Offcut) + " left."
		}
		out.Boards = append(out.Boards, x)
	}
	for _, k := range m.cutplan.Kept {
		x := KeptOffcut{Section: k.Section, Length: k.Length, Count: k.Count, FactoryEnd: k.FactoryEnd}
		x.Says = strconv.Itoa(k.Count) + " of " + k.Section + ", " + w.length(k.Length)
		if k.FactoryEnd {
			x.Says += ", one end never sawn"
		}
		out.Kept = append(out.Kept, x)
	}
	return out
}
