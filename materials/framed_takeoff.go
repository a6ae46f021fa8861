package materials

import (
	"fmt"
	"math"

	"github.com/martinlindhe/unit"
)

// Item ids of framed flights. Price lists use the same words.
const (
	ItemStringer       = "stringer"
	ItemTreadBoard     = "tread-board"
	ItemRiserBoard     = "riser-board"
	ItemLedger         = "ledger"
	ItemPost           = "post"
	ItemBeam           = "beam"
	ItemJoist          = "joist"
	ItemDeckBoard      = "deck-board"
	ItemGuardPost      = "guard-post"
	ItemGuardRail      = "guard-rail"
	ItemBaluster       = "baluster"
	ItemHandrail       = "handrail"
	ItemTreadBracket   = "tread-bracket"
	ItemHanger         = "hanger"
	ItemJoistHanger    = "joist-hanger"
	ItemHangerNail     = "hanger-nail"
	ItemFootBracket    = "foot-bracket"
	ItemPostBase       = "post-base"
	ItemPostCap        = "post-cap"
	ItemPostBolt       = "post-bolt"
	ItemGuardConnector = "guard-connector"
	ItemRailBracket    = "handrail-bracket"
	ItemDeckScrew      = "deck-screw"
	ItemConcrete       = "footing-concrete"
	ItemConcreteBag    = "concrete-bag"
)

// FramedPart is what one flight takes. Counts are of whole members, before any
// splice.
type FramedPart struct {
	First  int
	Layout Stringer
	// Stringers and their centres; Supports between foot and head.
	Stringers int
	Spacing   unit.Length
	Supports  int
	// TreadBoards to one tread, and how far they go beyond the tread: the
	// nosing. RiserBoards to one riser.
	TreadBoards int
	Nosing      unit.Length
	RiserBoards int
	// Joists and DeckBoards of the platform, Posts of supports and platform.
	Joists, DeckBoards, Posts int
	// GuardPosts and Balusters on all sides.
	GuardPosts, Balusters int
	// Handrail is the length of one rail, returns included; Handrails how many.
	Handrail  unit.Length
	Handrails int
	Pad       Pad
	// Concrete of pad and footings in place.
	Concrete unit.Volume
	// Heaviest is the mass of the heaviest piece, dry.
	Heaviest unit.Mass
	// Pieces are what is cut for the flight, one too long for its timber as the
	// parts it is joined from.
	Pieces []Piece
	Checks []Check
}

// FramedTakeOff lists what the flights need when built to the detail: flights
// in order from the foot.
//
// Treads of a cut flight are as long as the flight is wide, of a solid one as
// its clear bays and both housings. Guards and handrails are there where the detail's limits ask
// for them. Concrete is one item: by the bag where the detail has a bag, else
// by volume.
//
// The error is a [Faults].
func FramedTakeOff(flights []FramedFlight, d FramedDetail) (Takeoff, error) {
	t, _, err := framed(flights, d)
	return t, err
}

// FramedParts is what each flight takes and how it stands against its limits.
//
// The error is a [Faults].
func FramedParts(flights []FramedFlight, d FramedDetail) ([]FramedPart, error) {
	_, parts, err := framed(flights, d)
	return parts, err
}

func framed(flights []FramedFlight, d FramedDetail) (Takeoff, []FramedPart, error) {
	var faults Faults
	d.check("detail", &faults)
	if len(flights) == 0 {
		faults.Add("flights", "", "is empty", "give at least one flight")
	}
	if len(flights) > MaxFlights {
		faults.Add("flights", fmt.Sprint(len(flights)), fmt.Sprintf("is more than %d flights", MaxFlights), "split the path")
		return Takeoff{}, nil, faults
	}
	good := len(faults) == 0
	for i, f := range flights {
		at := fmt.Sprintf("flights[%d]", i)
		if f.check(at, &faults) && good {
			f.checkBoard(at, d, &faults)
		}
	}
	if len(faults) > 0 {
		return Takeoff{}, nil, faults
	}
	b := framedBuilder{d: d, need: map[string]*Quantity{}}
	var parts []FramedPart
	for i, f := range flights {
		shared := i > 0 && f.OnLanding && flights[i-1].Platform > 0 && flights[i-1].guarded(d)
		parts = append(parts, b.flight(f, shared))
	}
	return b.takeoff(), parts, nil
}

// framedBuilder gathers pieces and counts.
type framedBuilder struct {
	d             FramedDetail
	bare          bool // without checks and notes
	pieces        []Piece
	notes         []Note
	need          map[string]*Quantity
	concrete, pad float64
	heaviest      float64
}

// piece adds n members of the length, in equal parts where it is too long.
func (b *framedBuilder) piece(first int, use string, s Section, l unit.Length, n int) {
	if n <= 0 || !(l > 0) {
		return
	}
	parts, longest := 1, b.d.LongestTimber
	if use == ItemHandrail && b.d.LongestRail > 0 {
		longest = b.d.LongestRail
	}
	if longest > 0 {
		parts = spaces(l.Meters(), longest.Meters())
	}
	if parts > 1 {
		b.say(first, use, "%s", tooLong(use, b.d.show(l), fmt.Sprintf("join it from %d equal parts over a bearing or a post", parts)))
		l = unit.Length(l.Meters() / float64(parts))
		n *= parts
	}
	b.put(use, s, l, n)
}

func (b *framedBuilder) put(use string, s Section, l unit.Length, n int) {
	if m := b.d.TimberDensity.Of(s.Volume(l)).Kilograms(); m > b.heaviest {
		b.heaviest = m
	}
	b.pieces = append(b.pieces, Piece{Section: s.Name, Length: l, Count: n, Use: use})
}

// count adds n of an item without a section.
func (b *framedBuilder) count(id string, n int) {
	if n <= 0 {
		return
	}
	q := b.need[id]
	if q == nil {
		q = &Quantity{}
		b.need[id] = q
	}
	q.Count += n
}

func (b *framedBuilder) say(first int, item, format string, args ...any) {
	if b.bare {
		return
	}
	b.notes = append(b.notes, Note{Box: first, Item: item, Says: fmt.Sprintf(format, args...)})
}

func (b *framedBuilder) flight(f FramedFlight, shared bool) FramedPart {
	d := b.d
	b.heaviest = 0
	s := f.outline(d)
	if !b.bare {
		f.mark(&s, d)
	}
	p := FramedPart{First: f.First}
	first := len(b.pieces)
	p.Stringers, p.Spacing = d.Stringers(f.Width)
	p.Supports, s.Bay = f.supports(d)
	p.Layout = s
	treads := f.Risers - 1

	b.stringers(f, s, p)
	if d.Ledger {
		b.piece(f.First, ItemLedger, d.LedgerBoard, f.Width, 1)
		b.count(ItemScrew, 4*p.Stringers)
	} else {
		b.count(ItemHanger, p.Stringers)
		b.count(ItemHangerNail, p.Stringers*d.NailsPerHanger)
	}

	// Treads: boards over all the stringers, or bay by bay between solid ones.
	long, bays, bearings := f.Width, 1, p.Stringers
	if d.Solid {
		bays, bearings = p.Stringers-1, 2
		long = unit.Length((p.Spacing - d.Stringer.Thickness).Meters() + 2*d.Housing.Meters())
		if d.Housing == 0 {
			b.count(ItemTreadBracket, 2*bays*treads)
		}
	}
	p.TreadBoards, p.Nosing = d.TreadBoards(f.Tread)
	b.piece(f.First, ItemTreadBoard, d.Tread, long, treads*p.TreadBoards*bays)
	b.count(ItemDeckScrew, treads*p.TreadBoards*bays*bearings*d.ScrewsPerBearing)
	if p.Nosing > 1.25*inch {
		b.say(f.First, ItemTreadBoard, "%d boards go %s beyond the tread: rip the back one down", p.TreadBoards, d.show(p.Nosing))
	}
	if d.RiserBoard.Name != "" {
		// The opening to close is a riser less the tread board above it.
		p.RiserBoards = spaces((f.Riser - d.Tread.Thickness).Meters(), d.RiserBoard.Width.Meters())
		b.piece(f.First, ItemRiserBoard, d.RiserBoard, long, f.Risers*p.RiserBoards*bays)
		b.count(ItemDeckScrew, f.Risers*p.RiserBoards*bays*bearings*d.ScrewsPerBearing)
	}

	// Foot.
	before := b.concrete
	b.count(ItemFootBracket, p.Stringers)
	if !f.OnLanding {
		p.Pad = f.pad(d)
		b.concrete += p.Pad.Concrete.CubicMeters()
		b.pad += p.Pad.Gravel.CubicMeters()
	}
	b.supports(f, s, &p)
	if f.Platform > 0 {
		b.platform(f, &p)
	}
	p.Concrete = unit.Volume(b.concrete - before)
	if f.guarded(d) {
		b.guards(f, shared, &p)
	}
	b.handrail(f, &p)
	p.Heaviest = unit.Mass(b.heaviest) * unit.Kilogram
	if b.bare {
		return p
	}
	p.Pieces = addPieces(nil, b.pieces[first:])
	p.Checks = f.checks(d, s)
	for _, c := range p.Checks {
		if !c.OK && !c.Open {
			b.say(f.First, memberItem(c.Name), "%s is beyond its limit", c.Name)
		}
	}
	return p
}

// stringers adds the stringers' pieces. One too long for its timber is joined
// over supports only; there are enough of them for that.
func (b *framedBuilder) stringers(f FramedFlight, s Stringer, p FramedPart) {
	d := b.d
	l := s.Length + d.EndAllowance
	longest := d.LongestTimber
	if longest == 0 || l <= longest {
		b.put(ItemStringer, d.Stringer, l, p.Stringers)
		return
	}
	bays := p.Supports + 1
	bay := l.Meters() / float64(bays)
	each := int(math.Floor(longest.Meters()/bay + 1e-9))
	parts := spaces(float64(bays), float64(each))
	b.say(f.First, ItemStringer, "%s", tooLong(ItemStringer, d.show(l), fmt.Sprintf("join it from %d parts over a support", parts)))
	for left := bays; left > 0; parts-- {
		n := (left + parts - 1) / parts
		b.put(ItemStringer, d.Stringer, unit.Length(bay*float64(n)), p.Stringers)
		left -= n
	}
}

// supports adds a beam on posts under the stringers at the end of each bay.
func (b *framedBuilder) supports(f FramedFlight, s Stringer, p *FramedPart) {
	d := b.d
	posts, _ := f.posts(d)
	for k := 1; k <= p.Supports; k++ {
		height := f.Under
		if height == 0 {
			x := float64(k) * s.Bay.Meters()
			slope := f.up().Meters() / f.Tread.Meters()
			under := FramedClearance(d, f.up(), f.Tread) - d.Gap
			height = unit.Length(f.Riser.Meters() + float64(x*slope) - under.Meters())
		}
		b.row(f, ItemStringer, height-d.Beam.Width, posts, p)
	}
	if p.Supports > 0 && f.Under == 0 {
		b.say(f.First, ItemPost, "posts under the stringers are reckoned from level ground at the foot: on a slope they are shorter")
	}
}

// row adds one beam on its posts of the height.
func (b *framedBuilder) row(f FramedFlight, over string, post unit.Length, posts int, p *FramedPart) {
	d := b.d
	b.piece(f.First, ItemBeam, d.Beam, f.Width, d.BeamPlies)
	p.Posts += posts
	if post >= d.Post.Width { // a shorter one splits: common practice
		b.piece(f.First, ItemPost, d.Post, post, posts)
		b.count(ItemPostCap, posts)
	} else {
		b.say(f.First, ItemBeam, "the beam under the %s has no room for posts: it lies on the footings, set lower where need be", over)
	}
	b.count(ItemPostBase, posts)
	b.concrete += float64(float64(posts) * (pi / 4 * d.FootingDiameter.Meters() * d.FootingDiameter.Meters()) * d.FootingDepth.Meters())
}

// platform adds a landing: two beams across the path on posts, joists between
// them, decking across the joists.
func (b *framedBuilder) platform(f FramedFlight, p *FramedPart) {
	d := b.d
	posts, _ := f.posts(d)
	for range 2 {
		b.row(f, "platform", f.PlatformHeight-d.Decking.Thickness-d.Beam.Width, posts, p)
	}
	p.Joists = spaces((f.Width-d.Joist.Thickness).Meters(), d.JoistSpacing.Meters()) + 1
	b.piece(f.First, ItemJoist, d.Joist, unit.Length(f.Platform.Meters()-float64(float64(2*d.BeamPlies)*d.Beam.Thickness.Meters())), p.Joists)
	b.count(ItemJoistHanger, 2*p.Joists)
	b.count(ItemHangerNail, 2*p.Joists*d.NailsPerHanger)
	w, gap := d.Decking.Width.Meters(), d.TreadGap.Meters()
	p.DeckBoards = spaces(f.Platform.Meters()+gap, w+gap)
	b.piece(f.First, ItemDeckBoard, d.Decking, f.Width, p.DeckBoards)
	b.count(ItemDeckScrew, p.DeckBoards*p.Joists*d.ScrewsPerBearing)
}

func (b *framedBuilder) guards(f FramedFlight, shared bool, p *FramedPart) {
	d := b.d
	g := f.stairGuard(d)
	posts := g.posts
	if shared {
		posts--
	}
	n := d.GuardSides
	b.piece(f.First, ItemGuardPost, d.GuardPost, g.post, n*posts)
	b.piece(f.First, ItemGuardRail, d.GuardRail, g.rail, 2*n)
	b.piece(f.First, ItemBaluster, d.Baluster, g.baluster, n*g.balusters)
	p.GuardPosts, p.Balusters = n*posts, n*g.balusters
	if f.Platform > 0 {
		g = f.platformGuard(d)
		b.piece(f.First, ItemGuardPost, d.GuardPost, g.post, n*g.posts)
		b.piece(f.First, ItemGuardRail, d.GuardRail, g.rail, 2*n)
		b.piece(f.First, ItemBaluster, d.Baluster, g.baluster, n*g.balusters)
		p.GuardPosts += n * g.posts
		p.Balusters += n * g.balusters
		b.say(f.First, ItemGuardRail, "the platform's guard is counted on its sides along the path; a side that turns may want one more")
	}
	b.count(ItemPostBolt, p.GuardPosts*d.BoltsPerPost)
	b.count(ItemGuardConnector, p.GuardPosts)
	b.count(ItemDeckScrew, p.Balusters*d.ScrewsPerBaluster)
	b.say(f.First, ItemGuardPost, "each guard post needs a tested connection")
}

func (b *framedBuilder) handrail(f FramedFlight, p *FramedPart) {
	d := b.d
	if d.HandrailSides == 0 || f.Risers < d.HandrailFrom {
		return
	}
	slope := float64(float64(f.Risers-1) * hypotenuse(f.up().Meters(), f.Tread.Meters()))
	run := slope + (d.HandrailTop + d.HandrailBottom).Meters()
	p.Handrails = d.HandrailSides
	p.Handrail = unit.Length(run + 2*d.HandrailReturn.Meters())
	b.piece(f.First, ItemHandrail, d.Handrail, unit.Length(run), p.Handrails)
	b.piece(f.First, ItemHandrail, d.Handrail, d.HandrailReturn, 2*p.Handrails)
	b.count(ItemRailBracket, p.Handrails*(spaces(run, d.BracketSpacing.Meters())+1))
}

// memberItem is the item that a check's name begins with.
func memberItem(check string) string {
	for _, m := range []struct{ prefix, item string }{
		{"stringer", ItemStringer}, {"tread", ItemTreadBoard}, {"pad", ItemConcrete}, {"footing", ItemConcrete}, {"joist", ItemJoist},
		{"beam", ItemBeam}, {"guard-post", ItemGuardPost}, {"guard", ItemBaluster}, {"platform-guard", ItemBaluster}, {"handrail", ItemHandrail},
	} {
		if len(check) >= len(m.prefix) && check[:len(m.prefix)] == m.prefix {
			return m.item
		}
	}
	return ItemStringer
}

// takeoff makes the items, in a fixed order.
func (b *framedBuilder) takeoff() Takeoff {
	d := b.d
	t := Takeoff{Pieces: addPieces(nil, b.pieces), Notes: b.notes}
	for _, m := range []struct {
		id   string
		s    Section
		note string
	}{
		{ItemStringer, d.Stringer, "length between square ends and the allowance for squaring them"},
		{ItemTreadBoard, d.Tread, ""}, {ItemRiserBoard, d.RiserBoard, ""}, {ItemLedger, d.LedgerBoard, ""},
		{ItemBeam, d.Beam, ""}, {ItemPost, d.Post, ""}, {ItemJoist, d.Joist, ""}, {ItemDeckBoard, d.Decking, ""},
		{ItemGuardPost, d.GuardPost, ""}, {ItemGuardRail, d.GuardRail, "top and bottom rail"}, {ItemBaluster, d.Baluster, "its longer edge"},
		{ItemHandrail, d.Handrail, "one run and a return at both ends"},
	} {
		var q Quantity
		length := 0.0
		for _, p := range t.Pieces {
			if p.Use == m.id {
				q.Count += p.Count
				length += float64(float64(p.Count) * p.Length.Meters())
			}
		}
		if q.Count == 0 {
			continue
		}
		q.Length = unit.Length(length)
		q.Volume = m.s.Volume(q.Length)
		q.Mass = d.TimberDensity.Of(q.Volume)
		note := "the cut plan says what to buy and what is left over; mass is dry"
		if m.note != "" {
			note = m.note + "; " + note
		}
		t.Items = append(t.Items, Item{ID: m.id, Section: m.s.Name, Need: q, Order: q, Note: note})
	}
	for _, c := range []struct {
		id    string
		waste float64
		note  string
	}{
		{ItemTreadBracket, 0, "under both ends of each tread between solid stringers"},
		{ItemHanger, 0, "one connector a stringer at the head"},
		{ItemJoistHanger, 0, "two a joist"},
		{ItemHangerNail, d.Waste.Screws, "the makers' nailing schedule governs"},
		{ItemFootBracket, 0, "one a stringer at the foot"},
		{ItemPostBase, 0, ""}, {ItemPostCap, 0, ""},
		{ItemPostBolt, d.Waste.Screws, "1/2 in, galvanised"},
		{ItemGuardConnector, 0, "a tested hold-down for each guard post"},
		{ItemRailBracket, 0, ""},
		{ItemScrew, d.Waste.Screws, "four a stringer through the ledger"},
		{ItemDeckScrew, d.Waste.Screws, "boards and balusters"},
	} {
		q := b.need[c.id]
		if q == nil {
			continue
		}
		t.Items = append(t.Items, Item{ID: c.id, Need: *q, Waste: c.waste, Order: Quantity{Count: more(q.Count, c.waste)}, Note: c.note})
	}
	if b.concrete > 0 {
		t.Items = append(t.Items, concreteItem(unit.Volume(b.concrete), d.Bag, d.ConcreteDensity, d.Waste.Concrete))
	}
	if b.pad > 0 {
		a := d.PadAggregate
		need := Quantity{Volume: unit.Volume(b.pad)}
		need.Mass = a.Compacted.Of(need.Volume)
		order := Quantity{Volume: unit.Volume(b.pad * (1 + d.Waste.Gravel) * a.Factor())}
		order.Mass = a.Loose.Of(order.Volume)
		t.Items = append(t.Items, Item{ID: ItemBase, Need: need, Waste: d.Waste.Gravel, Order: order,
			Note: fmt.Sprintf("%s: need is compacted in place, order is loose, %.3f times that and the waste", a.Name, a.Factor())})
	}
	return t
}

// concreteItem is concrete by the bag, or by volume where a bag yields nothing.
func concreteItem(v unit.Volume, bag Bag, density Density, waste float64) Item {
	need := Quantity{Volume: v, Mass: density.Of(v)}
	order := Quantity{Volume: unit.Volume(v.CubicMeters() * (1 + waste))}
	order.Mass = density.Of(order.Volume)
	if bag.Yield <= 0 {
		return Item{ID: ItemConcrete, Need: need, Waste: waste, Order: order, Note: "in place; mass is of set concrete"}
	}
	need.Count = ConcreteBags(need.Volume, bag)
	order.Count = ConcreteBags(order.Volume, bag)
	order.Mass = unit.Mass(float64(order.Count) * float64(bag.Mass))
	return Item{ID: ItemConcreteBag, Need: need, Waste: waste, Order: order,
		Note: "count is whole bags; one is a " + bag.Name}
}

// ConcreteBags is how many whole bags make the volume. A bag without yield
// makes none: 0.
func ConcreteBags(v unit.Volume, bag Bag) int {
	n := v.CubicMeters() / bag.Yield.CubicMeters()
	if !(bag.Yield > 0) || !(n > 0) || n > 1e9 {
		return 0
	}
	return int(math.Ceil(n - 1e-9))
}

// addPieces appends pieces, adding up those of one section, use and length.
func addPieces(list, more []Piece) []Piece {
	list = append([]Piece(nil), list...)
	type key struct {
		section, use string
		nm           int64
	}
	at := map[key]int{}
	for i, p := range list {
		at[key{p.Section, p.Use, int64(math.Round(p.Length.Meters() * 1e9))}] = i
	}
	for _, p := range more {
		k := key{p.Section, p.Use, int64(math.Round(p.Length.Meters() * 1e9))}
		if i, ok := at[k]; ok {
			list[i].Count += p.Count
			continue
		}
		at[k] = len(list)
		list = append(list, p)
	}
	return list
}

// Merge puts two take-offs together: items of one id, section and waste are
// added up, as are equal pieces; boxes and notes are in order. [Takeoff.Treat]
// of the result treats the box timbers of whichever of the two has boxes, and
// [TreatFramed] the framed timbers.
func Merge(a, b Takeoff) Takeoff {
	out := Takeoff{
		Items:  append([]Item(nil), a.Items...),
		Pieces: addPieces(a.Pieces, b.Pieces),
		Boxes:  append(append([]BoxPart(nil), a.Boxes...), b.Boxes...),
		Notes:  append(append([]Note(nil), a.Notes...), b.Notes...),
		detail: a.detail,
	}
	if len(a.Boxes) == 0 {
		out.detail = b.detail
	}
	for _, it := range b.Items {
		out.Items = addItem(out.Items, it)
	}
	return out
}

// addItem adds an item to the one of its kind, or at the end.
func addItem(items []Item, it Item) []Item {
	for i := range items {
		have := &items[i]
		if have.ID != it.ID || have.Section != it.Section || have.Waste != it.Waste {
			continue
		}
		have.Need, have.Order = have.Need.plus(it.Need), have.Order.plus(it.Order)
		if have.Note != it.Note && it.Note != "" {
			if have.Note != "" {
				have.Note += "; "
			}
			have.Note += it.Note
		}
		return items
	}
	return append(items, it)
}

func (q Quantity) plus(p Quantity) Quantity {
	return Quantity{Count: q.Count + p.Count, Length: q.Length + p.Length, Area: q.Area + p.Area, Volume: q.Volume + p.Volume, Mass: q.Mass + p.Mass}
}

// TreatFramed returns the take-off with the preservative for the framed
// timbers: every end that the cut plan cuts on site, and the notches of cut
// stringers, two faces R and T across the board at every step. Timber of the
// boxes' own section is left to [Takeoff.Treat], which comes first.
func TreatFramed(t Takeoff, plan CutPlan, flights []FramedFlight, d FramedDetail) Takeoff {
	if d.Coats <= 0 || !(d.Coverage > 0) {
		return t
	}
	area := map[string]float64{}
	for _, s := range []Section{d.Stringer, d.Tread, d.RiserBoard, d.LedgerBoard, d.Post, d.Beam, d.Joist, d.Decking, d.GuardPost, d.GuardRail, d.Baluster, d.Handrail} {
		area[s.Name] = s.Area().SquareMeters()
	}
	if len(t.Boxes) > 0 {
		delete(area, t.detail.Timber.Name)
	}
	ends, cut := 0, 0.0
	for _, b := range plan.Boards {
		if a := area[b.Section]; a > 0 {
			ends += b.Count * b.CutEnds()
			cut += float64(float64(b.Count*b.CutEnds()) * a)
		}
	}
	notches := 0
	for _, f := range flights {
		if n, _ := d.Stringers(f.Width); !d.Solid && f.Risers >= 2 && f.Risers <= MaxFlightRisers {
			notches += n * (f.Risers - 1)
			cut += float64(float64(n*(f.Risers-1)) * (f.Riser + f.Tread).Meters() * d.Stringer.Thickness.Meters())
		}
	}
	if !(cut > 0) || !finite(cut) {
		return t
	}
	litres := cut * float64(d.Coats) / d.Coverage.SquareMeters()
	need := Quantity{Count: ends + notches, Area: unit.Area(cut), Volume: unit.Volume(litres) * unit.Liter}
	order := Quantity{Count: ends + notches, Area: need.Area, Volume: unit.Volume(litres*(1+d.Waste.Preservative)) * unit.Liter}
	t.Items = addItem(append([]Item(nil), t.Items...), Item{ID: ItemPreservative, Need: need, Waste: d.Waste.Preservative, Order: order,
		Note: fmt.Sprintf("%d ends of framing cut on site and %d notches, %d coats", ends, notches, d.Coats)})
	return t
}
