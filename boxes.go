package slopewright

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/earthwork"
	"github.com/slopewright/slopewright/materials"
	"github.com/slopewright/slopewright/stair"
)

// Footing is what keeps the bottom step from creeping downhill.
type Footing struct {
	Kind    string  `json:"kind" variant:"true" need:"true" one:"piers buried concrete" doc:"piers with brackets, timber buried below the bottom riser, or a concrete strip with anchor bolts"`
	Courses int     `json:"courses,omitempty" for:"buried" range:"[1,10]" doc:"timbers buried; default 1"`
	Width   *Length `json:"width,omitempty" for:"piers concrete" range:"[0.05,2]" doc:"across a pier, or of the strip along the path; default 8 in or 200 mm, 12 in or 300 mm"`
	Depth   *Length `json:"depth,omitempty" for:"piers concrete" range:"[0.05,3]" doc:"of the concrete; default 24 in or 600 mm, 8 in or 200 mm; below frost where the local code asks for it"`
	Spacing *Length `json:"spacing,omitempty" for:"piers concrete" range:"[0.1,10]" doc:"most between piers or anchors; default 4 ft or 1.2 m"`
	End     *Length `json:"end,omitempty" for:"piers concrete" range:"[0,2]" doc:"from the outer ones to the timber's ends; default 6 in or 150 mm, 12 in or 300 mm"`
	Screws  *int    `json:"screws,omitempty" for:"piers" range:"[0,20]" doc:"in each pier's bracket; default 4"`
}

// Waste is what is ordered over the need, each a fraction of it. Timbers have
// none: the cut plan says exactly what is bought and what is left.
type Waste struct {
	Pins         *Slope `json:"pins,omitempty" range:"[0,1]" doc:"default 5 %"`
	Screws       *Slope `json:"screws,omitempty" range:"[0,1]" doc:"and spikes; default 5 %"`
	Gravel       *Slope `json:"gravel,omitempty" range:"[0,1]" doc:"and drain stone; default 10 %"`
	Fabric       *Slope `json:"fabric,omitempty" range:"[0,1]" doc:"default 5 %"`
	Preservative *Slope `json:"preservative,omitempty" range:"[0,1]" doc:"default 10 %"`
	Concrete     *Slope `json:"concrete,omitempty" range:"[0,1]" doc:"default 10 %"`
	Edging       *Slope `json:"edging,omitempty" range:"[0,1]" doc:"default 5 %"`
	Cable        *Slope `json:"cable,omitempty" range:"[0,1]" doc:"of lights; default 5 %"`
}

// readBox takes the parts of the boxes' detail beyond timber and layers.
func (m *maker) readBox(d *materials.BoxDetail, all *Faults) {
	b := m.plan.Build
	d.Words = m.words.length
	length := func(of *unit.Length, l *Length) { *of = lengthOr(l, *of) }
	count := func(of *int, n *int) {
		if n != nil {
			*of = *n
		}
	}
	section := func(field, name string, bar bool) (materials.Section, bool) {
		s, err := materials.FramedSectionByName(name)
		if err != nil || s.Round != bar {
			what, list := "a board or timber", m.sections()
			if bar {
				what, list = "a bar", barNames()
			}
			all.Add("build."+field, name, "is not "+what+" of the tables", "write one of "+list)
			return s, false
		}
		return s, true
	}
	gravel := func(field, id string, of *materials.Aggregate) {
		if id == "" {
			return
		}
		a, ok := materials.AggregateByID(id)
		if !ok {
			all.Add("build."+field, id, "is not a gravel in the tables", "write one of "+gravelNames())
			return
		}
		*of = a
	}
	length(&d.Overlap, b.Overlap)
	length(&d.CrossEvery, b.CrossEvery)
	count(&d.ScrewsPerJoint, b.ScrewsPerJoint)
	if b.Joint != "butt" {
		d.Joint = materials.Joint(b.Joint)
	}
	length(&d.JointDepth, b.JointDepth)
	length(&d.SpliceLap, b.SpliceLap)
	if b.Face != "" {
		if s, ok := section("face", b.Face, false); ok {
			m.sized(&s)
			d.Face = s
		}
	}
	length(&d.FaceRebate, b.FaceRebate)
	d.FaceScrewEvery = lengthOr(b.FaceScrewEvery, m.either(24*unit.Inch, 600*unit.Millimeter))
	d.LandingBack = b.LandingBack
	length(&d.LandingEvery, b.LandingEvery)
	m.readBank(d)
	if b.Bar != "" {
		if s, ok := section("bar", b.Bar, true); ok {
			d.Pin = s
		}
	}
	length(&d.PinGround, b.PinGround)
	length(&d.PinEnd, b.PinEnd)
	length(&d.PinSpacing, b.PinSpacing)
	if b.NoPins {
		d.Pin = materials.Section{}
	}
	gravel("topping_gravel", b.ToppingGravel, &d.ToppingGravel)
	gravel("fill_gravel", b.FillGravel, &d.FillGravel)
	gravel("base_gravel", b.BaseGravel, &d.BaseGravel)
	d.NoFabric = b.NoFabric
	d.FabricLap = lengthOr(b.FabricLap, m.either(12*unit.Inch, 300*unit.Millimeter))
	count(&d.Coats, b.Coats)
	if b.Coverage != nil {
		d.Coverage = unit.Area(b.Coverage.Value)
	}
	m.readFooting(d)
	m.readWaste(d)
	if err := d.Check(); err != nil {
		for _, x := range [][2]string{{"max_bedding", "bedding"}, {"pin_length", "pin"}, {"footing.", "footing."}} {
			err = rename(err, x[0], x[1])
		}
		all.Put("build", err)
	}
}

func (m *maker) readFooting(d *materials.BoxDetail) {
	f := m.plan.Build.Footing
	if f == nil {
		return
	}
	x := materials.DefaultFooting(materials.FootingKind(f.Kind))
	if !m.inInches() {
		switch x.Kind {
		case materials.FootingPiers:
			x.Width, x.Depth, x.Spacing, x.End = 200*unit.Millimeter, 600*unit.Millimeter, 1200*unit.Millimeter, 150*unit.Millimeter
		case materials.FootingConcrete:
			x.Width, x.Depth, x.Spacing, x.End = 300*unit.Millimeter, 200*unit.Millimeter, 1200*unit.Millimeter, 300*unit.Millimeter
		}
	}
	if f.Courses > 0 {
		x.Courses = f.Courses
	}
	x.Width, x.Depth = lengthOr(f.Width, x.Width), lengthOr(f.Depth, x.Depth)
	x.Spacing, x.End = lengthOr(f.Spacing, x.Spacing), lengthOr(f.End, x.End)
	if f.Screws != nil {
		x.Screws = *f.Screws
	}
	x.Bag = m.bag()
	d.Footing = x
}

// bag is the concrete that the plan buys: the largest bag of its system unless
// it says otherwise, none for concrete by volume.
func (m *maker) bag() materials.Bag {
	want := m.plan.Build.Bag
	if want == "none" {
		return materials.Bag{}
	}
	if want == "" {
		want = "25kg"
		if m.inInches() {
			want = "80lb"
		}
	}
	for _, b := range materials.Bags() {
		if strings.HasPrefix(strings.ReplaceAll(b.Name, " ", ""), want) {
			return b
		}
	}
	return materials.Bag{}
}

func (m *maker) readWaste(d *materials.BoxDetail) {
	w := m.plan.Build.Waste
	d.Waste = materials.Waste{
		Pins: slopeOr(w.Pins, d.Waste.Pins), Screws: slopeOr(w.Screws, d.Waste.Screws), Gravel: slopeOr(w.Gravel, d.Waste.Gravel),
		Fabric: slopeOr(w.Fabric, d.Waste.Fabric), Preservative: slopeOr(w.Preservative, d.Waste.Preservative), Concrete: slopeOr(w.Concrete, d.Waste.Concrete),
	}
}

func barNames() string {
	var out []string
	for _, s := range materials.Sections() {
		if s.Round {
			out = append(out, s.Name)
		}
	}
	return strings.Join(out, ", ")
}

func gravelNames() string {
	var out []string
	for _, a := range materials.Aggregates() {
		out = append(out, a.ID)
	}
	return strings.Join(out, ", ")
}

// digBoxFooting digs the footing of the bottom step: what of it lies below the
// trench of its riser timber. The concrete takes the place of the gravel there.
func (m *maker) digBoxFooting() error {
	if m.detail.Footing.Kind == materials.FootingNone {
		return nil
	}
	boxes := m.boxes()
	if len(boxes) == 0 || m.layout.FirstStands && m.layout.Steps[0].Kind != stair.Framed {
		m.detail.Footing = materials.Footing{} // nothing to stand on it, or it stands already
		return nil
	}
	d := m.detail
	d.LongestTimber = 0
	t, err := materials.TakeOff(boxes[:1], d)
	if err != nil {
		return m.madeFaults(err, "build", boxes)
	}
	f := t.Boxes[0].Footing
	area := float64(f.Length) * float64(f.Width)
	if f.Kind == materials.FootingPiers {
		area = math.Pi / 4 * float64(f.Width) * float64(f.Width)
	}
	area *= float64(f.Count)
	below := f.Depth
	if f.Kind != materials.FootingBuried {
		// In the base gravel, which is left out there.
		in := d.Base
		if below < in {
			in = below
		}
		m.footingInBase = unit.Volume(area * float64(in))
		below -= in
	}
	hole := unit.Volume(area * float64(below))
	for i := range m.steps {
		if m.steps[i].Riser == boxes[0].Number {
			m.steps[i].CutBank += hole
			m.steps[i].FootingBank += hole
		}
	}
	m.total.Cut += hole
	m.footings += hole
	m.foundation = f
	return nil
}

// Time for what a box may have besides, in person-hours: common practice, no
// published figure was found.
const (
	pierHours     = 1.5 // dug, formed and poured
	stripHours    = 2.5 // a metre of concrete strip
	footHours     = 1.5 // a buried timber
	faceHours     = 0.3 // a face board
	bankHours     = 0.5 // a bank timber, spiked
	deadmanHours  = 0.7 // a deadman with its cross piece, beside the digging
	stripMetre    = 0.1 // a metre of edging with its stakes
	drainMetre    = 0.4 // a metre of drain, laid and filled, beside the digging
	lampHours     = 0.75
	lampHoursOnce = 2.0 // transformer and checks
)

// sundryTime is the time for footing, faces, banks, edging, drain and lights.
func (m *maker) sundryTime() []earthwork.Activity {
	var out []earthwork.Activity
	add := func(id, name string, own *float64, hours, once, n float64) {
		switch {
		case n <= 0:
		case own != nil:
			out = append(out, m.activity(id, name, *own*n, thisPlan, false))
		default:
			h := unit.Duration(once+float64(hours*n)) * unit.Hour
			out = append(out, earthwork.Activity{
				ID: id, Name: name, Source: "common practice",
				Time: earthwork.Range{Low: h * framedLow, Likely: h, High: h * framedHigh},
			})
		}
	}
	r := m.outputs()
	if f := m.foundation; f.Kind != "" {
		n, hours := 1.0, footHours
		switch f.Kind {
		case materials.FootingPiers:
			hours = pierHours * float64(f.Count)
		case materials.FootingConcrete:
			hours = stripHours * f.Length.Meters()
		}
		add("footing", "footing of the bottom step", r.Footing, hours, 0, n)
	}
	faces, banks, deadmen := 0, 0, 0
	for _, p := range m.takeoff.Boxes {
		faces += p.FaceBoards
		for _, x := range p.Banks {
			banks += x.Courses
			deadmen += x.Deadmen
		}
	}
	add("faces", "face boards", r.Face, faceHours, 0, float64(faces))
	add("banks", "timbers that hold the bank", r.Bank, bankHours, float64(deadmanHours*float64(deadmen)), float64(banks))
	for _, i := range m.takeoff.Items {
		switch i.ID {
		case materials.ItemEdging:
			add("edging", "edging", r.Edging.value(), stripMetre, 0, i.Need.Length.Meters())
		case materials.ItemDrainPipe:
			add("drain", "laying the drain", r.Drain.value(), drainMetre, 0, i.Need.Length.Meters())
		case materials.ItemLight:
			add("lights", "lights", r.Light, lampHours, lampHoursOnce, float64(i.Need.Count))
		}
	}
	return out
}

// notesResult is what the take-off has to say, each sentence once with the
// steps it is about.
func (m *maker) notesResult() []NoteResult {
	type key struct{ item, says string }
	at := map[key]int{}
	var out []NoteResult
	var where [][]int
	add := func(n materials.Note) {
		k := key{n.Item, n.Says}
		i, ok := at[k]
		if !ok {
			i = len(out)
			at[k] = i
			out = append(out, NoteResult{Item: n.Item, Says: sentence(n.Says)})
			where = append(where, nil)
		}
		if n.Box > 0 {
			where[i] = append(where[i], n.Box)
		}
	}
	for _, n := range m.takeoff.Notes {
		// Checks that fail are findings.
		if !strings.HasSuffix(n.Says, " is beyond its limit") {
			add(n)
		}
	}
	for i := range out {
		out[i].Where = risers(where[i])
	}
	return out
}

// risers writes numbers of risers in order: risers 2 to 9, 11 and 14.
func risers(n []int) string {
	var parts []string
	for i := 0; i < len(n); {
		j := i
		for j+1 < len(n) && n[j+1] == n[j]+1 {
			j++
		}
		switch {
		case j == i:
			parts = append(parts, strconv.Itoa(n[i]))
		default:
			parts = append(parts, fmt.Sprintf("%d to %d", n[i], n[j]))
		}
		i = j + 1
	}
	if len(n) == 1 {
		return "riser " + list(parts)
	}
	if len(n) > 1 {
		return "risers " + list(parts)
	}
	return ""
}
