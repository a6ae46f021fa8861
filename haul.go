package slopewright

import (
	"math"
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/earthwork"
)

// StepPart is one part of the digging for a step.
type StepPart struct {
	_    [0]func()   // not comparable, which spares code: see DEVELOPERS.md
	Part string      `json:"part" doc:"as in dig.parts"`
	Bank unit.Volume `json:"bank"`
}

// DigPart is one part of all the digging.
type DigPart struct {
	_    [0]func()   // not comparable, which spares code: see DEVELOPERS.md
	Part string      `json:"part" doc:"topsoil, bench, landing, over, working, sides, clearance, trench, pads, posts, footing, drain or deadmen"`
	Name string      `json:"name"`
	Bank unit.Volume `json:"bank"`
	Says string      `json:"says"`
}

// SoilState is what becomes of one soil, in each of its states.
type SoilState struct {
	_           [0]func()   // not comparable, which spares code: see DEVELOPERS.md
	Soil        string      `json:"soil" doc:"the class of soil"`
	CutBank     unit.Volume `json:"cut_bank"`
	BroughtBank unit.Volume `json:"brought_bank"`
	ReusedBank  unit.Volume `json:"reused_bank" doc:"goes back: as fill, or, of topsoil, over the ground beside the path"`
	LeftBank    unit.Volume `json:"left_bank"`
	Placed      unit.Volume `json:"placed" doc:"reused_bank where it lies then: tamped, or, of topsoil, loose"`
	LeftLoose   unit.Volume `json:"left_loose"`
	LeftMass    unit.Mass   `json:"left_mass"`
	Says        string      `json:"says"`
}

// HaulResult is where the earth goes: the cheapest way there is, reckoned by volume
// and distance. It is of the soil that is dug and filled; topsoil stays apart. All
// its volumes but bank are loose.
type HaulResult struct {
	_ [0]func() // not comparable, which spares code: see DEVELOPERS.md
	// Moves leave out what stays on its step.
	Moves  []HaulMove  `json:"moves" doc:"from the foot up; what stays on its own step is left out"`
	Places []HaulPlace `json:"places" doc:"those that are used"`
	Curve  []HaulPoint `json:"curve" doc:"the mass-haul curve, a point for each step"`
	Moved  unit.Volume `json:"moved" doc:"all that does not stay on its step"`
	Spoil  unit.Volume `json:"spoil" doc:"of it, to places"`
	Fetch  unit.Volume `json:"fetch" doc:"of it, from places"`
	// MeanDistance and MeanClimb are of what is moved.
	MeanDistance unit.Length `json:"mean_distance"`
	MeanClimb    unit.Length `json:"mean_climb"`
	Climb        float64     `json:"climb" doc:"metres of level way that a metre climbed counts as"`
	Source       string      `json:"source"`
}

// HaulMove is one lot of earth and its way. Neighbouring steps whose earth goes to
// one place are one lot; its distances are then means.
type HaulMove struct {
	_         [0]func()   // not comparable, which spares code: see DEVELOPERS.md
	FromRiser int         `json:"from_riser,omitempty" doc:"the step it is dug behind, or the first of several"`
	FromLast  int         `json:"from_last,omitempty" doc:"the last of several"`
	FromPlace string      `json:"from_place,omitempty"`
	ToRiser   int         `json:"to_riser,omitempty"`
	ToLast    int         `json:"to_last,omitempty"`
	ToPlace   string      `json:"to_place,omitempty"`
	Loose     unit.Volume `json:"loose"`
	Bank      unit.Volume `json:"bank"`
	Distance  unit.Length `json:"distance"`
	Rise      unit.Length `json:"rise" doc:"how much higher it ends, negative for lower"`
	Climb     unit.Length `json:"climb" doc:"all that goes up on the way"`
	Says      string      `json:"says"`
}

// HaulPlace is a place that earth goes to or comes from.
type HaulPlace struct {
	_     [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Name  string    `json:"name"`
	Fetch bool      `json:"fetch,omitempty" doc:"it comes from there"`
	Away  bool      `json:"away,omitempty" doc:"it leaves the site"`
	// Station and Distance are where one turns off to it, and how far it is from there.
	Station  unit.Length `json:"station" doc:"where one turns off to it"`
	Distance unit.Length `json:"distance" doc:"from there"`
	Loose    unit.Volume `json:"loose"`
	Mass     unit.Mass   `json:"mass"`
	// Breadth, Height and Footprint are of a round heap at its angle of repose.
	Breadth   unit.Length `json:"breadth,omitempty" doc:"of a round heap at its angle of repose"`
	Height    unit.Length `json:"height,omitempty"`
	Footprint unit.Area   `json:"footprint,omitempty"`
	Repose    float64     `json:"repose,omitempty" doc:"that angle, degrees"`
	KeepBack  unit.Length `json:"keep_back,omitempty" doc:"the least from the edge of the cut to the middle of the heap"`
	// Spread and Terrace are two other ways to leave it.
	SpreadDepth   unit.Length `json:"spread_depth,omitempty"`
	SpreadArea    unit.Area   `json:"spread_area,omitempty" doc:"what it covers so deep, loose"`
	TerraceLength unit.Length `json:"terrace_length,omitempty" doc:"tamped into a level terrace on ground as steep as the path's"`
	TerraceDepth  unit.Length `json:"terrace_depth,omitempty"`
	TerraceHeight unit.Length `json:"terrace_height,omitempty" doc:"at its front, to be held"`
	Says          string      `json:"says"`
}

// HaulPoint is one step of the mass-haul curve.
type HaulPoint struct {
	_          [0]func()   // not comparable, which spares code: see DEVELOPERS.md
	Riser      int         `json:"riser"`
	Station    unit.Length `json:"station"`
	Cut        unit.Volume `json:"cut"`
	Need       unit.Volume `json:"need" doc:"filled there"`
	Cumulative unit.Volume `json:"cumulative" doc:"all cut less all need from the foot up to here: where it rises there is earth to spare"`
}

// earth is what the stage of the earth hands on.
type earth struct {
	topsoil  unit.Volume // stripped, in the bank
	respread unit.Volume // of it, what goes back beside the path
	parts    []DigPart
	plan     earthwork.Haul
	places   []earthwork.Place
	heaps    []EarthPlace // as given, in the order of places; the rest are our own
	levels   []earthwork.HaulStep
	// The way of spoil, or of what is fetched, and of gravel and timber; what they
	// climb, as so much more level way.
	way, climb, carry, carryClimb unit.Length
}

const (
	// A metre climbed takes a walker as long as 7.92 m on the level: an hour for 3
	// miles, another for 2000 ft (Naismith, 1892, from memory). Nothing was found for
	// barrows.
	climbWorth  = 15840.0 / 2000
	climbSource = "Naismith, 1892, for walkers: an hour for 3 miles and one more for 2000 ft climbed (from memory); no figure for barrows was found"

	heapName, fetchName = "heap", "soil brought"
	// Earth goes where nobody gave it room only when nothing else is left.
	lastResort = 10 * unit.Kilometer

	// A terrace is told by one length, for its size to be seen: the choice is ours.
	terraceLong = 3 * unit.Meter
)

// readPlaces checks what the tags cannot: that every place has a name of its own.
func (m *maker) readPlaces(all *Faults) {
	have := map[string]bool{heapName: true, fetchName: true}
	for i, p := range m.plan.Soil.Places {
		field := "soil.places[" + strconv.Itoa(i) + "].name"
		switch {
		case p.Name == "":
			all.Add(field, "", "is empty", "write what the place is called")
		case have[p.Name]:
			all.Add(field, p.Name, "is the name of another place too", "name each place differently; heap and soil brought are taken")
		}
		have[p.Name] = true
	}
}

// digTopsoil strips all that is worked of its topsoil: what is dug and filled then
// is reckoned from the stripped ground. Depths stay those from the ground as it is.
func (m *maker) digTopsoil() error {
	t := m.topsoil
	if t <= 0 {
		return nil
	}
	low := m.ground.Lowered(t)
	steps, total, _, err := m.digOn(low, m.layout)
	if err != nil {
		// Fill that only the stripping makes, on ground too steep for its shoulders:
		// the boxes hold it.
		keep := m.section
		m.section.FillBatter = 0
		steps, total, _, err = m.digOn(low, m.layout)
		m.section = keep
	}
	if err != nil {
		return err
	}
	covered := 0.0
	for i := range m.steps {
		b, err := m.bed(m.ground, m.layout, i)
		if err != nil {
			return err
		}
		s := &m.steps[i]
		if b.dug {
			area, err := b.ground.WorkedArea(b.section, b.stretch)
			if b.framed {
				var strip earthwork.Strip
				strip, err = b.ground.StripTopsoil(b.section, b.stretch, t)
				area = strip.Area
			}
			if err != nil {
				return under("ground", err)
			}
			s.TopsoilBank = unit.Volume(float64(area) * float64(t))
			on := float64(b.stretch.To-b.stretch.From) * float64(m.section.Width)
			covered += math.Min(on, float64(area))
		}
		m.earth.topsoil += s.TopsoilBank
		s.CutBank = steps[i].CutBank + s.TopsoilBank
		s.FillCompacted, s.BackfillCompacted = steps[i].FillCompacted, steps[i].BackfillCompacted
	}
	if back := m.earth.topsoil - unit.Volume(covered*float64(t)); back > 0 {
		m.earth.respread = back
	}
	m.total.Cut, m.total.Fill, m.total.Backfill = total.Cut+m.earth.topsoil, total.Fill, total.Backfill
	m.total.AverageEndArea, m.total.Prismoidal = total.AverageEndArea+m.earth.topsoil, total.Prismoidal+m.earth.topsoil
	return nil
}

// partNames are the parts of the digging in the order they are told in.
var partNames = [...][2]string{
	{"topsoil", "topsoil, kept apart"},
	{"over", "bank above the treads"},
	{"bench", "room for the gravel of treads"},
	{"landing", "room for the gravel of landings"},
	{"working", "working space beside the boxes"},
	{"sides", "sides sloped back"},
	{"clearance", "air under the stringers"},
	{"trench", "trenches under riser timbers"},
	{"pads", "pads of framed flights"},
	{"posts", "post holes"},
	{"footing", "footing of the bottom step"},
	{"drain", "swale or drain"},
	{"deadmen", "trenches for deadmen"},
}

// partOut takes the digging of every step apart.
func (m *maker) partOut() error {
	g := m.ground
	if m.topsoil > 0 {
		g = g.Lowered(m.topsoil)
	}
	sums := map[string]unit.Volume{}
	for i := range m.steps {
		s := &m.steps[i]
		s.Parts = []StepPart{}
		add := func(part string, v unit.Volume) {
			if v > 0 {
				s.Parts = append(s.Parts, StepPart{Part: part, Bank: v})
				sums[part] += v
			}
		}
		add("topsoil", s.TopsoilBank)
		b, err := m.bed(g, m.layout, i)
		if err != nil {
			return err
		}
		if b.dug {
			layers := []earthwork.Layer{{ID: "bench", Thickness: m.buildUp}}
			if m.layout.Steps[i].Landing {
				layers[0].ID = "landing"
			}
			if b.framed {
				layers = nil
			}
			b.section.FillBatter = 0 // only the cut counts here
			parts, err := b.ground.DigParts(b.section, b.stretch, layers, 0)
			if err != nil {
				return under("ground", err)
			}
			for _, p := range parts {
				if b.framed && p.ID == "over" {
					p.ID = "clearance"
				}
				add(p.ID, p.Bank)
			}
		}
		add("trench", s.TrenchBank)
		add("pads", s.pads)
		add("posts", s.posts)
		add("footing", s.FootingBank-s.pads-s.posts)
		add("drain", s.drain)
		add("deadmen", s.deadmen)
	}
	for _, n := range partNames {
		if v := sums[n[0]]; v > 0 {
			m.earth.parts = append(m.earth.parts, DigPart{Part: n[0], Name: n[1], Bank: v})
		}
	}
	return nil
}

// haulEarth balances the earth and finds the cheapest way to move it.
func (m *maker) haulEarth() error {
	if err := m.partOut(); err != nil {
		return err
	}
	e, l := &m.earth, m.layout
	soil := 0.0
	for i, s := range m.steps {
		at := l.Steps[i]
		deep := at.Tread
		if i == len(m.steps)-1 {
			deep = m.detail.HeadReturn
		}
		h := earthwork.HaulStep{
			Riser: s.Riser, Station: at.Station + deep/2, Level: at.Level,
			CutBank: s.CutBank - s.TopsoilBank, FillCompacted: s.FillCompacted, BackfillCompacted: s.BackfillCompacted,
		}
		if h.CutBank < 0 {
			h.CutBank = 0 // the rounding of nothing
		}
		soil += float64(h.CutBank)
		e.levels = append(e.levels, h)
	}
	m.balance = m.soil.Balance(unit.Volume(soil), m.total.Fill, m.total.Backfill)
	own := func(name string, off unit.Length, fetch bool) {
		e.heaps = append(e.heaps, EarthPlace{Name: name, Fetch: fetch})
		e.places = append(e.places, earthwork.Place{Name: name, Offset: m.haul, Extra: off, Borrow: fetch})
	}
	given := [2]unit.Length{}
	for _, p := range m.plan.Soil.Places {
		q := earthwork.Place{
			Name: p.Name, Station: lengthOr(p.At, m.foot.Station) - m.foot.Station, Offset: lengthOr(p.Off, defaultHaul),
			Rise: lengthOr(p.Rise, 0), Extra: lengthOr(p.Extra, 0), Borrow: p.Fetch,
		}
		if r := p.Room; r != nil {
			q.Capacity = unit.Volume(float64(r.Length.Length) * float64(r.Width.Length) * float64(r.Depth.Length))
		}
		k := 0
		if p.Fetch {
			k = 1
		}
		given[k] = lastResort
		e.heaps = append(e.heaps, p)
		e.places = append(e.places, q)
	}
	own(heapName, given[0], false)
	own(fetchName, given[1], true)
	var err error
	worth, _ := m.climb()
	if e.plan, err = earthwork.HaulPlan(m.soil, e.levels, e.places, earthwork.HaulCost{Climb: worth}); err != nil {
		return under("soil", err)
	}
	var volume, way, climb float64
	for _, x := range e.plan.Moves {
		if x.FromPlace != "" || x.ToPlace != "" {
			v := x.Loose.CubicMeters()
			volume += v
			way += float64(v * float64(x.Distance))
			climb += float64(v * float64(x.Climb))
		}
	}
	if volume > 0 {
		e.way, e.climb = unit.Length(way/volume), unit.Length(worth*climb/volume)
	}
	m.carryWay()
	return nil
}

// carryWay is how far gravel and timber are carried, on the mean over the path.
func (m *maker) carryWay() {
	var long, way, climb float64
	head := m.layout.Head.Station
	for i, s := range m.earth.levels {
		d := float64(m.layout.Steps[i].Tread)
		long += d
		if m.plan.Soil.Unload == "head" {
			way += float64(d * math.Abs(float64(head-s.Station)))
			continue
		}
		way += float64(d * float64(s.Station))
		climb += float64(d * float64(s.Level))
	}
	m.earth.carry = m.carry
	if long > 0 {
		m.earth.carry += unit.Length(way / long)
		worth, _ := m.climb()
		m.earth.carryClimb = unit.Length(worth * climb / long)
	}
}

// place is the one with a name.
func (m *maker) place(name string) (EarthPlace, earthwork.Place) {
	for i, p := range m.earth.places {
		if p.Name == name {
			return m.earth.heaps[i], p
		}
	}
	return EarthPlace{}, earthwork.Place{}
}

// levelAt is how high the path lies where its earth is reckoned to lie.
func (m *maker) levelAt(x unit.Length) unit.Length {
	level := m.earth.levels[0].Level
	for _, s := range m.earth.levels {
		if s.Station <= x {
			level = s.Level
		}
	}
	return level
}

// haulResult tells of the haul plan, and is worked out once.
func (m *maker) haulResult() HaulResult {
	if m.hauled == nil {
		out := m.tellHaul()
		m.hauled = &out
	}
	return *m.hauled
}

func (m *maker) tellHaul() HaulResult {
	e := &m.earth
	h := &e.plan
	worth, source := m.climb()
	out := HaulResult{
		Moves: []HaulMove{}, Places: []HaulPlace{}, Moved: h.Loose, Spoil: h.Spoil, Fetch: h.Borrow,
		MeanDistance: h.MeanDistance, MeanClimb: h.MeanClimb, Climb: worth, Source: source,
	}
	for _, p := range h.Curve {
		out.Curve = append(out.Curve, HaulPoint{Riser: p.Riser, Station: p.Station, Cut: p.Cut, Need: p.Need, Cumulative: p.Cumulative})
	}
	end := func(riser int, place string) unit.Length {
		if place != "" {
			_, p := m.place(place)
			return m.levelAt(p.Station) + p.Rise
		}
		return e.levels[riser-e.levels[0].Riser].Level
	}
	for _, x := range h.Moves {
		y := HaulMove{
			FromRiser: x.FromRiser, FromLast: x.FromRiser, FromPlace: x.FromPlace, ToRiser: x.ToRiser, ToLast: x.ToRiser, ToPlace: x.ToPlace,
			Loose: x.Loose, Distance: x.Distance, Climb: x.Climb, Rise: end(x.ToRiser, x.ToPlace) - end(x.FromRiser, x.FromPlace),
		}
		if n := len(out.Moves); n > 0 && out.Moves[n-1].takes(&y) {
			continue
		}
		out.Moves = append(out.Moves, y)
	}
	loose := map[string]unit.Volume{}
	for i := range out.Moves {
		x := &out.Moves[i]
		x.Bank = m.soil.BankOfLoose(x.Loose)
		x.Says = m.sayTheMove(x)
		loose[x.FromPlace+x.ToPlace] += x.Loose
	}
	for i, p := range e.places {
		if v := loose[p.Name]; v > 0 {
			out.Places = append(out.Places, m.haulPlace(e.heaps[i], p, v))
		}
	}
	return out
}

// takes makes one lot of two where steps side by side send to, or take from, one
// place or step.
func (x *HaulMove) takes(y *HaulMove) bool {
	from := x.FromPlace == y.FromPlace && x.ToPlace == y.ToPlace && x.ToRiser == y.ToRiser && x.ToLast == y.ToLast && y.FromRiser > 0 && y.FromRiser <= x.FromLast+1
	to := x.FromPlace != "" && x.FromPlace == y.FromPlace && y.ToRiser > 0 && y.ToRiser <= x.ToLast+1
	if !from && !to {
		return false
	}
	a, b := x.Loose.CubicMeters(), y.Loose.CubicMeters()
	mean := func(p *unit.Length, q unit.Length) {
		*p = unit.Length((float64(float64(*p)*a) + float64(float64(q)*b)) / (a + b))
	}
	mean(&x.Distance, y.Distance)
	mean(&x.Rise, y.Rise)
	mean(&x.Climb, y.Climb)
	x.Loose += y.Loose
	x.FromLast, x.ToLast = y.FromLast, y.ToLast
	return true
}

func (m *maker) sayTheMove(x *HaulMove) string {
	w := m.words
	end := func(first, last int, place string) string {
		switch {
		case place != "":
			return "the " + place
		case first == last:
			return "riser " + strconv.Itoa(first)
		case last == first+1:
			return "risers " + strconv.Itoa(first) + " and " + strconv.Itoa(last)
		}
		return "risers " + strconv.Itoa(first) + " to " + strconv.Itoa(last)
	}
	s := w.little(x.Loose) + " loose from " + end(x.FromRiser, x.FromLast, x.FromPlace) + " to " + end(x.ToRiser, x.ToLast, x.ToPlace) + ", " + w.distance(x.Distance)
	switch {
	case w.round(x.Rise) == 0:
		return s + " on the level."
	case x.Rise < 0:
		return s + " and " + w.rough(-x.Rise) + " down."
	}
	return s + " and " + w.rough(x.Rise) + " up."
}

// sayTheHaul is how the spoil goes, or what is brought comes.
func (m *maker) sayTheHaul() string {
	w, h := m.words, &m.earth.plan
	if h.Loose <= 0 {
		return ""
	}
	s := w.little(h.Loose) + " loose is moved along the path, " + w.distance(h.MeanDistance) + " on the mean"
	if h.MeanClimb > 0.3*unit.Meter {
		s += " and " + w.rough(h.MeanClimb) + " up"
	}
	var places []string
	for _, p := range m.haulResult().Places {
		to := " to the "
		if p.Fetch {
			to = " from the "
		}
		places = append(places, w.little(p.Loose)+to+p.Name)
	}
	if len(places) > 0 {
		s += ": " + list(places)
	}
	return sentence(s)
}

// setBackOf is how far the middle of a heap keeps from the edge of a cut.
func setBackOf(p earthwork.Pile) unit.Length { return setBack + p.Breadth/2 }

func (m *maker) haulPlace(given EarthPlace, p earthwork.Place, loose unit.Volume) HaulPlace {
	w := m.words
	out := HaulPlace{Name: p.Name, Fetch: p.Borrow, Away: given.Away, Station: p.Station, Distance: p.Offset, Loose: loose, Mass: m.soil.Mass(m.soil.BankOfLoose(loose))}
	out.Says = strings.TrimSuffix(sentence(p.Name), ".") + ", " + w.distance(p.Offset) + " from "
	switch {
	case p.Station == 0:
		out.Says += "the foot"
	case p.Station < 0:
		out.Says += "the path, " + w.distance(-p.Station) + " below the foot"
	default:
		out.Says += "the path, " + w.distance(p.Station) + " up from the foot"
	}
	out.Says += ": " + w.volume(loose) + " loose (" + w.mass(out.Mass) + ")"
	switch {
	case p.Borrow:
		out.Says += " to fetch."
		return out
	case p.Extra >= lastResort:
		out.Says += " for which the places given have no room."
		return out
	case given.Away:
		out.Says += " to take off the site."
		return out
	}
	pile := m.soil.Pile(loose, 0)
	out.Breadth, out.Height, out.Footprint, out.Repose = pile.Breadth, pile.Height, pile.Footprint, m.soil.Repose.Value
	out.KeepBack = setBackOf(pile)
	out.SpreadDepth = lengthOr(m.plan.Soil.Spread, m.either(4*unit.Inch, 100*unit.Millimeter))
	out.SpreadArea, _ = earthwork.SpreadArea(loose, out.SpreadDepth)
	// A level terrace on a slope is a wedge: half its depth by its height, along its length.
	slope := float64(m.layout.Rise) / float64(m.layout.Run)
	tamped := m.soil.Compacted(m.soil.BankOfLoose(loose))
	out.TerraceLength = m.either(10*unit.Foot, terraceLong)
	out.TerraceDepth = unit.Length(math.Sqrt(2 * float64(tamped) / (float64(out.TerraceLength) * slope)))
	out.TerraceHeight = unit.Length(float64(out.TerraceDepth) * slope)
	out.Says += ". Heaped, it lies " + w.rough(out.Breadth) + " across and " + w.rough(out.Height) + " high, with its middle at least " + w.rough(out.KeepBack) +
		" from the edge of the cut; spread " + w.length(out.SpreadDepth) + " deep, it covers " + w.area(out.SpreadArea) + "; tamped, it makes a terrace " +
		w.rough(out.TerraceLength) + " long and " + w.rough(out.TerraceDepth) + " deep, held " + w.rough(out.TerraceHeight) + " high at its front."
	return out
}

// soilStates is what becomes of each soil.
func (m *maker) soilStates() []SoilState {
	b := m.balance
	out := []SoilState{{
		Soil: m.soil.ID, CutBank: b.CutBank, BroughtBank: b.BorrowBank, ReusedBank: b.ReusedBank, LeftBank: b.SpoilBank,
		Placed: m.soil.Compacted(b.ReusedBank), LeftLoose: b.SpoilLoose, LeftMass: b.SpoilMass,
	}}
	if t := m.earth.topsoil; t > 0 {
		soil, _ := earthwork.SoilByID("topsoil")
		left := t - m.earth.respread
		out = append(out, SoilState{
			Soil: soil.ID, CutBank: t, ReusedBank: m.earth.respread, LeftBank: left,
			Placed: soil.Loose(m.earth.respread), LeftLoose: soil.Loose(left), LeftMass: soil.Mass(left),
		})
	}
	w := m.words
	for i := range out {
		x := &out[i]
		x.Says = itemName(x.Soil) + ": " + w.volume(x.CutBank) + " dug"
		if x.BroughtBank > 0 {
			x.Says += " and " + w.volume(x.BroughtBank) + " brought"
		}
		back := w.shares(x.CutBank, x.ReusedBank, x.LeftBank)
		x.Says += " in the bank, " + back[0] + " goes back"
		if x.LeftBank > 0 {
			x.Says += ", " + back[1] + " is left, " + w.volume(x.LeftLoose) + " loose"
		}
		x.Says = sentence(x.Says)
	}
	return out
}

// otherSkip is the container of the other system: skips are let where metres are
// used, roll-off bins where feet are.
func (m *maker) otherSkip() string {
	if m.inInches() {
		return "skip"
	}
	return "roll-off bin"
}

// carryTime is the time to carry the timber in: each board by as many people as it
// takes (NIOSH, HSE L23), at the pace of a person with a load; what is light, by the
// person's load.
func (m *maker) carryTime() []earthwork.Activity {
	trips := 0.0
	for _, b := range m.cutplan.Boards {
		kg, ok := m.wetMass(b.Section, b.Stock)
		if !ok {
			continue
		}
		n := float64(kg / earthwork.LiftConstant)
		if n > 1 {
			people, _ := earthwork.People(kg, earthwork.LiftConstant)
			n = float64(people)
		}
		trips += float64(n * float64(b.Count))
	}
	if trips == 0 {
		return nil
	}
	r := m.outputs()
	minutes := trips * (2*float64(m.earth.carry+m.earth.carryClimb)/quantityOr(r.Carrying, carrySpeed) + numberOr(r.CarryTrip, carryLost))
	source, fromMemory := "Gillette and Hill, Concrete Construction, 1908: 150 ft/min with a load; people to a board by NIOSH 94-110 and HSE L23; 1 min a trip common practice", true
	if r.Carrying != nil && r.CarryTrip != nil {
		source, fromMemory = "people to a board by NIOSH 94-110 and HSE L23; the rest "+thisPlan, false
	} else if r.Carrying != nil || r.CarryTrip != nil {
		source += "; where given, " + thisPlan
	}
	return []earthwork.Activity{m.activity("carry", "carrying timber", minutes/60, source, fromMemory)}
}

const (
	carrySpeed = 150 * 0.3048 // m/min: Gillette and Hill, 1908, carrying on a shovel
	carryLost  = 1.0          // min a trip

	topsoilHours = 0.80 * 8     // a m³ in the bank
	spreadRate   = 13.5 / 8     // m³ loose an hour
	fast, slow   = 1.2, 1 / 0.8 // a fifth either way: Gillette and Hill, 1908
)

// activity is a time with a fifth either way for the worker.
func (m *maker) activity(id, name string, hours float64, source string, fromMemory bool) earthwork.Activity {
	return earthwork.Activity{ID: id, Name: name, Source: source, FromMemory: fromMemory, Time: earthwork.Range{
		Low: unit.Duration(hours/fast) * unit.Hour, Likely: unit.Duration(hours) * unit.Hour, High: unit.Duration(hours*slow) * unit.Hour,
	}}
}

// earthTime is the time for the earth that [earthwork.Soil.Hours] does not know of.
func (m *maker) earthTime() []earthwork.Activity {
	var out []earthwork.Activity
	add := func(id, name string, amount float64, own *Quantity, rate float64, source string, fromMemory bool) {
		if own != nil {
			rate, source, fromMemory = own.Value, thisPlan, false
		}
		if amount > 0 {
			out = append(out, m.activity(id, name, amount/rate, source, fromMemory))
		}
	}
	r := m.outputs()
	add("topsoil", "stripping topsoil and spreading it again", m.earth.topsoil.CubicMeters(), r.Topsoil, 1/topsoilHours,
		"Nepal rural-road norms: stripping topsoil, storing and reusing it, to 100 m, 0.80 person-day of 8 h per m³", false)
	if m.plan.Soil.Spread != nil {
		add("spread", "spreading spoil", m.keptHere().CubicMeters(), r.Spreading, spreadRate,
			"ILO/ASIST Technical Brief 2, Productivity Norms, 1998: spreading 12 to 15 m³ a day", true)
	}
	return append(out, m.carryTime()...)
}

// keptHere is the spoil that stays on the site, loose.
func (m *maker) keptHere() unit.Volume {
	var v unit.Volume
	for _, x := range m.earth.plan.Moves {
		for i := range m.earth.places {
			if m.earth.places[i].Name == x.ToPlace && !m.earth.heaps[i].Away {
				v += x.Loose
			}
		}
	}
	return v
}

// haulFindings are what the places given leave open.
func (m *maker) haulFindings() []Finding {
	var out []Finding
	for _, x := range m.earth.plan.Moves {
		if _, p := m.place(x.FromPlace + x.ToPlace); p.Extra >= lastResort {
			out = []Finding{{Severity: "warn", Rule: "room", Source: "this plan",
				Says: "The places given have no room for all of it: " + m.words.volume(m.beyondRoom()) + " loose is without one."}}
		}
	}
	return out
}

// beyondRoom is what no place given takes or gives.
func (m *maker) beyondRoom() unit.Volume {
	var v unit.Volume
	for _, x := range m.earth.plan.Moves {
		if _, p := m.place(x.FromPlace + x.ToPlace); p.Extra >= lastResort {
			v += x.Loose
		}
	}
	return v
}
