// Package draw makes the drawings of a plan as SVG text, for the page and for
// print. It takes plain numbers and words, so that it knows nothing of how
// they were worked out.
//
// The drawings are SVG 1.1 with presentation attributes only: no style sheet,
// script or outside reference, so that they pass the strictest page. Ink is
// currentColor; every part has a class (sw-ground, sw-cut, …), so that a page
// can set its own colours. Nothing is told by colour alone.
package draw

import (
	"math"
	"strconv"
)

// Step is one riser and the tread behind it, in metres.
type Step struct {
	// Riser counts from 1 at the foot.
	Riser int
	// Station and Level are of the nosing, the riser's upper edge.
	Station, Level float64
	// TreadEnd and EndLevel are of the tread's back edge, where the next
	// riser begins. The last riser lands on the head: TreadEnd is Station.
	TreadEnd, EndLevel float64
	// Landing says that the tread is a landing.
	Landing bool
	// Framed says that stringers carry the tread, clear of the ground: there
	// is no gravel under it, and its formation is what is dug clear.
	Framed bool
}

// LevelString is the string that the work is set out from.
type LevelString struct{ Level, From, To float64 }

// Deepest is the deepest cut: ground above formation, in metres.
type Deepest struct{ Station, Depth float64 }

// Span is one dimension of a chain, from station to station.
type Span struct {
	From, To float64
	// Text stands on it; Short, where that finds no room. One that begins with
	// Passed is marked so for the key to explain.
	Text, Short string
	// Ticks are stations between that are marked without a number.
	Ticks []float64
}

// Passed begins the text of a dimension that passes a limit.
const Passed = "! "

// Section is a long section: the ground along the path, the steps, and what is
// dug and made up between. Lengths are in metres, stations uphill positive,
// levels above the datum. Only the ground is needed.
type Section struct {
	Title string
	// Desc tells what the drawing shows to who cannot see it.
	Desc string
	// Foot and Head are the ends of the path. Rise and run are shown when the
	// head's station is beyond the foot's.
	Foot, Head XY
	// Ground is the surface before work: at least two points, stations
	// ascending.
	Ground []XY
	// Steps ascend, and so does Formation; it has a piece for each tread that
	// is dug, and none below framed flights.
	Steps     []Step
	Formation []Piece
	// String, Deepest and Readings (stations) are optional.
	String   *LevelString
	Deepest  *Deepest
	Readings []float64
	// Chain is a row of dimensions below the stations, ascending.
	Chain []Span
	// LengthText prints a length; nil prints metres with two decimals.
	LengthText func(metres float64) string
	// Feet graduates the staff and the scale bar in feet rather than metres.
	Feet  bool
	Words Words
}

// Words are all the words of a drawing, so that they can be translated. An
// empty one is taken from English.
type Words struct {
	_                                                      [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Ground, Finished, Formation, Cut, Fill, Gravel, String string    // the key
	Rise, Run, DeepestCut, Landing                         string
	// Passed explains the mark before a dimension that passes a limit.
	Passed string
	// The plan.
	Uphill, PathEdge, FormationEdge, TopOfCut, Toe, SetBack, Heap, Joint, Width, FormationWidth string
	Stringers, Pad, Beam                                                                        string
	// The view.
	GroundBefore, Earth, Isometric string
	// TrueScale says that heights are not exaggerated.
	TrueScale    string
	Feet, Metres string // abbreviated, for the scales
	// Nothing stands in place of a drawing that cannot be made.
	Nothing string
}

// English gives the words in English.
func English() Words {
	return Words{
		Ground: "Ground", Finished: "Finished steps", Formation: "Formation (dug to)",
		Cut: "Cut", Fill: "Made ground", Gravel: "Gravel", String: "Setting-out string",
		Rise: "Rise", Run: "Run", DeepestCut: "Deepest cut", Landing: "Landing", Passed: "Passes a limit",
		Uphill:   "Uphill",
		PathEdge: "Timbers", FormationEdge: "Edge of formation", TopOfCut: "Top of cut", Toe: "Toe of made ground",
		SetBack: "Spoil and stacks outside this line", Heap: "Heap to scale, its way cut short", Joint: "Joint", Width: "Width", FormationWidth: "Formation",
		GroundBefore: "Ground before work, at the near edge", Earth: "Hill below formation",
		Isometric: "Isometric, cut away along the near edge of the path; numbers are risers",
		TrueScale: "Heights and lengths to one scale",
		Feet:      "ft", Metres: "m",
		Nothing: "No section: the ground is not known",
	}
}

// filled gives w with empty words from English, each cleaned and cut to 80
// characters.
func (w Words) filled() Words {
	e := English()
	for _, p := range []struct{ word, english *string }{
		{&w.Ground, &e.Ground}, {&w.Finished, &e.Finished}, {&w.Formation, &e.Formation},
		{&w.Cut, &e.Cut}, {&w.Fill, &e.Fill}, {&w.Gravel, &e.Gravel}, {&w.String, &e.String},
		{&w.Rise, &e.Rise}, {&w.Run, &e.Run}, {&w.DeepestCut, &e.DeepestCut}, {&w.Landing, &e.Landing}, {&w.Passed, &e.Passed},
		{&w.Uphill, &e.Uphill}, {&w.PathEdge, &e.PathEdge}, {&w.FormationEdge, &e.FormationEdge}, {&w.TopOfCut, &e.TopOfCut},
		{&w.Toe, &e.Toe}, {&w.SetBack, &e.SetBack}, {&w.Heap, &e.Heap}, {&w.Joint, &e.Joint}, {&w.Width, &e.Width}, {&w.FormationWidth, &e.FormationWidth},
		{&w.GroundBefore, &e.GroundBefore}, {&w.Earth, &e.Earth}, {&w.Isometric, &e.Isometric},
		{&w.TrueScale, &e.TrueScale}, {&w.Feet, &e.Feet}, {&w.Metres, &e.Metres}, {&w.Nothing, &e.Nothing},
	} {
		if *p.word = clean(*p.word, 80); *p.word == "" {
			*p.word = *p.english
		}
	}
	return w
}

// Look is how a drawing is made.
type Look struct {
	// Prefix begins every id in the drawing, so that two can stand on one
	// page: a letter, then letters, digits, - and _, up to 40. Anything else
	// is "sw".
	Prefix string
	// Ink draws everything in the ink, for print in black and white.
	Ink bool
	// NoTitle leaves the title to whoever sets the drawing; it still is in the
	// document.
	NoTitle bool
	// Scale is that of the print: 20 makes a drawing that measures 1:20 on
	// paper, its size given in millimetres, and as wide as it must be whatever
	// width is asked for. 0 fits the drawing to a width. Scales from 1 to
	// 10 000 are drawn; a drawing wider than 4 m of paper is fitted instead.
	Scale float64
	// ScaleText says what the scale is, such as "1:20 on A4"; "" says 1:Scale.
	ScaleText string
	// Comma writes the decimals of scales and axes after a comma.
	Comma bool
}

// A CSS px is 1/96 in: CSS Values and Units, level 4, section 6.2.
const mmPerPx = 25.4 / 96

func (l Look) scaled() bool { return l.Scale >= 1 && l.Scale <= 10_000 }

// pxPerMetre of the ground, in a drawing to scale.
func (l Look) pxPerMetre() float64 { return 1000 / mmPerPx / l.Scale }

// width in px of a drawing to scale of so many metres across with so much room
// beside them.
func (l Look) width(metres, room float64) float64 {
	return math.Max(minWidth, float64(math.Max(metres, 1)*l.pxPerMetre())+room)
}

// fitted gives the look without a scale at which metres across would be wider
// than any paper.
func (l Look) fitted(metres float64) Look {
	if !(metres/l.Scale <= 4) {
		l.Scale = 0
	}
	return l
}

// scaleText is what is said of the scale.
func (l Look) scaleText(otherwise string) string {
	switch {
	case !l.scaled():
		return otherwise
	case l.ScaleText != "":
		return clean(l.ScaleText, 60)
	}
	return "1:" + plainNumber(l.Scale)
}

// bounded brings a width in px into what is drawn.
func bounded(width float64) float64 {
	switch {
	case math.IsNaN(width):
		return 960
	case width < minWidth:
		return minWidth
	case width > maxWidth:
		return maxWidth
	}
	return width
}

func (l Look) prefix() string {
	for i, c := range l.Prefix {
		letter := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z'
		if !letter && (i == 0 || !(c >= '0' && c <= '9' || c == '-' || c == '_')) {
			return "sw"
		}
	}
	if l.Prefix == "" || len(l.Prefix) > 40 {
		return "sw"
	}
	return l.Prefix
}

// The colours of cut and made ground, chosen to differ in lightness as well
// and to be read on white and on near-black (contrast at least 3:1 on both).
const (
	cutRed   = "#bf2f2a"
	fillTeal = "#1c8577"
)

func (l Look) cut() string {
	if l.Ink {
		return "currentColor"
	}
	return cutRed
}

func (l Look) fill() string {
	if l.Ink {
		return "currentColor"
	}
	return fillTeal
}

const (
	minWidth, maxWidth = 320, 2000
	// maxPoints bounds each list of a section; maxMetres, its coordinates.
	maxPoints = 10_000
	maxSteps  = 2_000
	maxMetres = 1e6
)

// drawable says whether the section has ground and no number that cannot be
// drawn.
func (s *Section) drawable() bool {
	if len(s.Ground) < 2 || len(s.Ground) > maxPoints || len(s.Readings) > maxPoints ||
		len(s.Steps) > maxSteps || len(s.Formation) > maxSteps {
		return false
	}
	ok := true
	num := func(vs ...float64) {
		for _, v := range vs {
			ok = ok && math.Abs(v) <= maxMetres // false for NaN
		}
	}
	num(s.Foot.Station, s.Foot.Level, s.Head.Station, s.Head.Level)
	for i, p := range s.Ground {
		num(p.Station, p.Level)
		ok = ok && (i == 0 || p.Station > s.Ground[i-1].Station)
	}
	for i, t := range s.Steps {
		num(t.Station, t.Level, t.TreadEnd, t.EndLevel)
		ok = ok && t.TreadEnd >= t.Station && (i == 0 || t.Station >= s.Steps[i-1].TreadEnd)
	}
	for i, p := range s.Formation {
		num(p.From.Station, p.From.Level, p.To.Station, p.To.Level)
		ok = ok && p.To.Station >= p.From.Station && (i == 0 || p.From.Station >= s.Formation[i-1].From.Station)
	}
	for _, x := range s.Readings {
		num(x)
	}
	ok = ok && len(s.Chain) <= maxSteps
	for i, x := range s.Chain {
		num(x.From, x.To)
		num(x.Ticks...)
		ok = ok && x.To >= x.From && (i == 0 || x.From >= s.Chain[i-1].To) && len(x.Ticks) <= maxSteps
	}
	if s.String != nil {
		num(s.String.Level, s.String.From, s.String.To)
	}
	if s.Deepest != nil {
		num(s.Deepest.Station, s.Deepest.Depth)
	}
	return ok
}

// hasPath says whether the ends of the path are given.
func (s *Section) hasPath() bool { return s.Head.Station > s.Foot.Station }

// frame is the mapping of metres to px, one scale for both ways.
type frame struct {
	k            float64 // px per metre
	x0, y0       float64 // px of station minX and level maxY
	minX, maxY   float64
	right, floor float64 // px of the greatest station and the least level
}

// What they are handed may be a product, and these are where it would be added unrounded.
func (f frame) x(station float64) float64 { return f.x0 + float64((float64(station)-f.minX)*f.k) }
func (f frame) y(level float64) float64   { return f.y0 + float64((f.maxY-float64(level))*f.k) }

// extent gives the least and greatest station and level of all that is drawn.
func (s *Section) extent() (minX, maxX, minY, maxY float64) {
	minX, minY = math.Inf(1), math.Inf(1)
	maxX, maxY = math.Inf(-1), math.Inf(-1)
	add := func(x, y float64) {
		minX, maxX = math.Min(minX, x), math.Max(maxX, x)
		minY, maxY = math.Min(minY, y), math.Max(maxY, y)
	}
	for _, p := range s.Ground {
		add(p.Station, p.Level)
	}
	if s.hasPath() {
		add(s.Foot.Station, s.Foot.Level)
		add(s.Head.Station, s.Head.Level)
	}
	for _, t := range s.Steps {
		add(t.Station, t.Level)
		add(t.TreadEnd, t.EndLevel)
	}
	for _, p := range s.Formation {
		add(p.From.Station, p.From.Level)
		add(p.To.Station, p.To.Level)
	}
	if s.String != nil {
		add(s.String.From, s.String.Level)
		add(s.String.To, s.String.Level)
	}
	return minX, maxX, minY, maxY
}

// SVG draws the section to fit a width in px, 320 to 2000 (a width outside is
// brought inside; NaN is 960). Station s and level l lie at x = data-x0 + s ·
// data-scale and y = data-y0 − l · data-scale, by the attributes of its root,
// so that a page can lay something over it. Text has the same size at any width; the height
// follows. A section that cannot be drawn (ground of fewer than two points or
// not ascending, numbers that are none or beyond 1 000 000 m, more than 10 000
// points or 2000 steps) gives a drawing that says so in Words.Nothing.
func (s Section) SVG(width float64, look Look) string {
	width = bounded(width)
	ok := s.drawable()
	if ok && look.scaled() {
		minX, maxX, _, _ := s.extent()
		if look = look.fitted(maxX - minX); look.scaled() {
			width = look.width(maxX-minX, sectionLeft+s.right())
		}
	}
	d := drawing{canvas: newCanvas("sw-section", s.Title, s.Desc, width, look), s: &s, words: s.Words.filled()}
	if ok {
		d.draw()
	} else {
		d.nothing()
	}
	return d.document()
}

// drawing is one section being made.
type drawing struct {
	canvas
	s     *Section
	words Words
	f     frame
	// has tells what the key must explain.
	has  struct{ cut, fill, gravel bool }
	ends [2]segment // from foot and head down to the run
}

// length prints a length for a label.
func (d *drawing) length(m float64) string {
	if d.s.LengthText == nil {
		return strconv.FormatFloat(m, 'f', 2, 64) + " " + d.words.Metres
	}
	return clean(d.s.LengthText(m), 40)
}

const margin = 8.0

// sectionLeft is the room for the staff, in px.
const sectionLeft = 46.0

// right is the room to the right of the section: for the rise, when there is
// one.
func (s *Section) right() float64 {
	if s.hasPath() {
		return 36
	}
	return 16
}

func (d *drawing) nothing() {
	d.title()
	d.note(label{text: d.words.Nothing, class: "sw-note"})
	d.bottom += margin
}

func (d *drawing) draw() {
	s := d.s
	d.title()
	minX, maxX, minY, maxY := s.extent()
	// Less than a metre across is drawn as a metre.
	if gap := 1 - (maxX - minX); gap > 0 {
		minX, maxX = minX-gap/2, maxX+gap/2
	}
	left := sectionLeft
	wide := d.width - left - s.right()
	// A cliff is drawn smaller rather than taller than a screen or a sheet.
	tall := math.Min(math.Max(1.1*d.width, 420), 1300)
	k := wide / (maxX - minX)
	if k*(maxY-minY) > tall {
		k = tall / (maxY - minY)
	}
	if d.look.scaled() {
		k = d.look.pxPerMetre()
	}
	d.f = frame{
		k: k, minX: minX, maxY: maxY,
		x0: left + (wide-float64(k*(maxX-minX)))/2,
		y0: d.bottom + 30, // room for labels above the highest line
	}
	d.f.right, d.f.floor = d.f.x(maxX), d.f.y(minY)
	// The datum in px, and px in a metre, with more digits than a coordinate,
	// since a page multiplies by it.
	d.frame = ` data-x0="` + px(d.f.x(0)) + `" data-y0="` + px(d.f.y(0)) + `" data-scale="` + strconv.FormatFloat(k, 'f', 4, 64) + `"`
	d.bottom = d.f.floor + 14

	d.staff(minY, maxY)
	d.readings()
	d.earth()
	d.ground()
	d.steps()
	d.levelString()
	notes := d.dimensions()
	d.stepLabels()
	d.stationLabels()
	d.fall()
	d.earthSymbol()
	for _, n := range notes {
		d.note(n)
	}
	d.scaleBar()
	d.key()
}
