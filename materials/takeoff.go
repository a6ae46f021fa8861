package materials

import (
	"fmt"
	"math"
	"sort"

	"github.com/martinlindhe/unit"
)

// TakeOff lists what the boxes need when built to the detail. Boxes are in
// order from the foot.
//
// A riser timber runs the full width, in as many courses as
// [BoxDetail.Courses] says. Two side timbers a course butt against its back
// and run to the next riser timber, which stands on their ends; where that one
// is buried they stop at its face. Layers are level with the treads, timber
// displaces them exactly, and gravel under a riser's underside but above
// formation is base.
//
// The error is a [Faults].
func TakeOff(boxes []Box, d BoxDetail) (Takeoff, error) {
	var faults Faults
	d.check("detail", &faults)
	if len(boxes) == 0 {
		faults.Add("boxes", "", "is empty", "give at least one box")
	}
	if len(boxes) > MaxBoxes {
		faults.Add("boxes", fmt.Sprint(len(boxes)), fmt.Sprintf("is more than %d boxes", MaxBoxes), "split the path")
		return Takeoff{}, faults
	}
	for i, b := range boxes {
		c := &checker{fmt.Sprintf("boxes[%d].", i), &faults}
		c.length("riser", b.Riser, 10*unit.Millimeter, 2*unit.Meter)
		c.length("tread", b.Tread, 0, 100*unit.Meter)
		c.length("width", b.Width, 200*unit.Millimeter, 20*unit.Meter)
		if b.Radius != 0 {
			checkRadius(c, b.Radius)
		}
		c.length("bank_left", b.BankLeft, 0, 10*unit.Meter)
		c.length("bank_right", b.BankRight, 0, 10*unit.Meter)
	}
	if len(faults) > 0 {
		return Takeoff{}, faults
	}
	for i, b := range boxes {
		c := &checker{fmt.Sprintf("boxes[%d].", i), &faults}
		if b.Tread > 0 && b.Tread <= d.Breadth() {
			c.wrong("tread", b.Tread, "is not deeper than the timber's "+show(d.Breadth()), "give a deeper tread or a thinner timber")
		}
		if b.Width <= 2*d.Breadth() {
			c.wrong("width", b.Width, "leaves nothing between two side timbers", "give a wider path or a thinner timber")
		}
		if n, _, _ := d.Courses(b.Riser); n == 0 {
			c.wrong("riser", b.Riser, fmt.Sprintf("would take more than %d courses", maxCourses), "give a thicker timber")
		}
		if b.Radius > 0 && b.Tread > 0 {
			b.wedge(false).checkRadius(c)
		}
	}
	if len(faults) > 0 {
		return Takeoff{}, faults
	}
	t := Takeoff{detail: d}
	for i, b := range boxes {
		t.addBox(b, i, boxes)
	}
	t.sum()
	return t, nil
}

// addBox works out one box and appends its part, pieces and notes.
func (t *Takeoff) addBox(b Box, i int, boxes []Box) {
	d := t.detail
	w, h := d.Breadth().Meters(), d.Course().Meters()
	width := b.Width.Meters()
	p := BoxPart{Number: b.Number, Landing: b.Landing}
	p.Courses, p.Bedding, p.Buried = d.Courses(b.Riser)

	// Lengths of the timbers. depth is the box from face to face.
	depth := b.Tread.Meters()
	last := b.Tread == 0
	var side float64
	nextBears := false
	if last {
		side = d.HeadReturn.Meters()
		depth = w + side
	} else {
		side = depth - w
		if i+1 < len(boxes) {
			if _, _, buried := d.Courses(boxes[i+1].Riser); buried == 0 {
				nextBears = true
				side += d.overlap().Meters()
			}
		}
	}
	endIn := d.EndIn().Meters()
	p.RiserTimber, p.Risers = b.Width, p.Courses
	left, right := depth, depth // of the box's edges
	// Plan area of one course of both sides within the box.
	inner := side
	if inner > depth-w {
		inner = depth - w
	}
	sides := 2 * w * inner
	if b.Radius > 0 && !last {
		plan := b.wedge(nextBears).plan(d)
		p.SideTimber, p.Sides = plan.OuterSide, p.Courses
		if plan.InnerSide > 0 {
			p.InnerSide, p.InnerSides = plan.InnerSide, p.Courses
		}
		sides = plan.sidesArea(d)
		left, right = plan.OuterFace.Meters(), (plan.InnerFace + plan.MitreWaste).Meters()
		if !b.Right {
			left, right = right, left
		}
		t.Notes = append(t.Notes, plan.notes(p.Number)...)
	} else if side > 0 {
		p.SideTimber, p.Sides = unit.Length(side+endIn), 2*p.Courses
	}
	clear := depth - w
	if b.Landing && d.LandingBack && !last && clear > w {
		p.LandingTimber, p.LandingTimbers = unit.Length(width-2*w+2*endIn), p.Courses
		clear -= w
	}
	every := d.CrossEvery.Meters()
	if b.Landing && d.LandingEvery > 0 {
		every = d.LandingEvery.Meters()
	}
	if every > 0 && depth > every {
		p.Crosses = int(math.Ceil((depth-1e-6)/every)) - 1
		// Cross pieces nearer than their own breadth would be a floor.
		if float64(float64(p.Crosses)*w) >= clear {
			p.Crosses = 0
		}
		p.CrossPiece = unit.Length(width - 2*w + 2*endIn)
	}
	if p.Crosses == 0 {
		p.CrossPiece = 0
	}

	t.bank(&p, false, b.BankLeft, left)
	t.bank(&p, true, b.BankRight, right)
	d.face(&p, b.Riser)
	if i == 0 {
		p.Footing = d.footing(p)
	}

	// Joints: two corners a course, two ends a cross piece or landing timber, two
	// bearings.
	between := 2 * (p.Crosses + p.LandingTimbers)
	splices := p.splices(d)
	joints := between + splices
	if p.Sides > 0 {
		corners := p.Sides + p.InnerSides
		joints += corners
		p.Notched += unit.Area(float64(corners) * d.notch(true))
	}
	p.Notched += unit.Area(float64(float64(between)*d.notch(false)) + float64(float64(splices)*d.spliceNotch()))
	if nextBears {
		joints += 2
	}
	p.Screws = joints * d.ScrewsPerJoint
	if p.Footing.Kind == FootingPiers {
		p.Screws += p.Footing.Anchors * d.Footing.Screws
	}
	if d.Pin.Name != "" {
		p.PinLength = d.PinLength
		if least := unit.Length(float64(float64(p.Courses)*h)) + d.PinGround; least > p.PinLength {
			p.PinLength = least
		}
		if p.Pins = d.pins(p.RiserTimber); p.Footing.Pins > 0 {
			p.Pins = 0 // they go through the footing
		}
		switch {
		case p.InnerSides > 0:
			p.Pins += d.pins(p.SideTimber) + d.pins(p.InnerSide)
		case p.Sides > p.Courses:
			p.Pins += 2 * d.pins(p.SideTimber)
		case p.Sides > 0:
			p.Pins += d.pins(p.SideTimber)
		}
	}

	// Layers, less the timber in them. under is how deep below this tread's
	// surface the overlap of the box below begins.
	area := width * depth
	stack := float64(float64(p.Courses) * h)
	frame := float64(width*w) + sides
	across := float64((width - 2*w) * w) // of a cross piece between the sides
	cross := float64(p.Crosses) * across
	if p.LandingTimbers > 0 {
		frame += across
	}
	foot := p.Footing.inBox(w, depth)
	footBottom := stack + p.Footing.Depth.Meters()
	var lap, lapTop, lapBottom float64
	if i > 0 {
		if below := t.Boxes[i-1]; boxes[i-1].Tread > 0 && p.Buried == 0 {
			lap = 2 * w * d.overlap().Meters()
			lapTop = b.Riser.Meters()
			lapBottom = lapTop + float64(float64(below.Courses)*h)
		}
	}
	layer := func(top, thickness float64) unit.Volume {
		bottom := top + thickness
		v := float64(area*thickness) - float64(frame*shared(top, bottom, 0, stack)) -
			float64(cross*shared(top, bottom, stack-h, stack)) - float64(lap*shared(top, bottom, lapTop, lapBottom)) -
			float64(foot*shared(top, bottom, stack, footBottom))
		if v < 0 {
			v = 0
		}
		return unit.Volume(v) * unit.CubicMeter
	}
	p.Topping = layer(0, d.Topping.Meters())
	p.Fill = layer(d.Topping.Meters(), d.Fill.Meters())
	p.Base = layer((d.Topping + d.Fill).Meters(), d.Base.Meters())
	if !d.NoFabric {
		p.Fabric = unit.Area(width*(depth+d.FabricLap.Meters())) * unit.SquareMeter
	}
	run := float64(float64(p.Risers)*p.RiserTimber.Meters()) + float64(float64(p.Sides)*p.SideTimber.Meters()) + float64(float64(p.Crosses)*p.CrossPiece.Meters()) +
		float64(float64(p.LandingTimbers)*p.LandingTimber.Meters()) + float64(float64(p.InnerSides)*p.InnerSide.Meters()) + float64(float64(p.footTimbers(d))*p.RiserTimber.Meters())
	for _, x := range p.Banks {
		run += x.run()
	}
	p.Timber = d.Timber.Volume(unit.Length(run))

	first := len(t.Pieces)
	p.HeaviestPiece = t.addPieces(p)
	p.Pieces = append([]Piece(nil), t.Pieces[first:]...)
	t.addNotes(p, d)
	t.Boxes = append(t.Boxes, p)
}

// shared is how much the depths a..b and c..d have in common.
func shared(a, b, c, d float64) float64 {
	if c > a {
		a = c
	}
	if d < b {
		b = d
	}
	if b > a {
		return b - a
	}
	return 0
}

// pins is how many pins one timber takes: at both ends and between.
func (d BoxDetail) pins(l unit.Length) int {
	between := l.Meters() - 2*d.PinEnd.Meters()
	if between <= 0 {
		return 2
	}
	n := int(math.Ceil((between-1e-6)/d.PinSpacing.Meters())) + 1
	if n < 2 {
		n = 2
	}
	return n
}

// footTimbers is how many timbers are buried below the first riser.
func (p BoxPart) footTimbers(d BoxDetail) int {
	if p.Footing.Kind != FootingBuried {
		return 0
	}
	if d.Footing.Courses == 0 {
		return 1
	}
	return d.Footing.Courses
}

// splices is the number of splice joints of the box.
func (p BoxPart) splices(d BoxDetail) int {
	joints := func(l unit.Length, n int) int {
		parts, _ := d.splice(l)
		return n * (parts - 1)
	}
	n := joints(p.RiserTimber, p.Risers+p.footTimbers(d)) + joints(p.SideTimber, p.Sides) + joints(p.InnerSide, p.InnerSides) +
		joints(p.CrossPiece, p.Crosses) + joints(p.LandingTimber, p.LandingTimbers)
	for _, x := range p.Banks {
		n += joints(x.Timber, x.Timbers) + joints(x.Cut, x.Cuts) + joints(x.Deadman, x.Deadmen) + joints(x.Cross, x.Deadmen)
	}
	return n
}

// addPieces appends the pieces of a box and returns the mass of the heaviest.
func (t *Takeoff) addPieces(p BoxPart) unit.Mass {
	d := t.detail
	var longest unit.Length
	add := func(use string, l unit.Length, n int) {
		if n == 0 {
			return
		}
		if parts, each := d.splice(l); parts > 1 {
			t.Notes = append(t.Notes, Note{Box: p.Number, Item: use, Says: d.noteSplice(use, l, parts)})
			l = each
			n *= parts
		}
		if l > longest {
			longest = l
		}
		t.Pieces = append(t.Pieces, Piece{Section: d.Timber.Name, Length: l, Count: n, Use: use})
	}
	add(ItemRiserTimber, p.RiserTimber, p.Risers)
	add(ItemSideTimber, p.SideTimber, p.Sides)
	add(ItemSideTimber, p.InnerSide, p.InnerSides)
	add(ItemCrossPiece, p.CrossPiece, p.Crosses)
	add(ItemLandingTimber, p.LandingTimber, p.LandingTimbers)
	add(ItemFootTimber, p.RiserTimber, p.footTimbers(d))
	for _, x := range p.Banks {
		add(ItemBankTimber, x.Timber, x.Timbers)
		add(ItemBankTimber, x.Cut, x.Cuts)
		add(ItemDeadman, x.Deadman, x.Deadmen)
		add(ItemDeadmanCross, x.Cross, x.Deadmen)
	}
	if p.FaceBoards > 0 {
		l, n := p.FaceBoard, p.FaceBoards
		if d.LongestTimber > 0 {
			if parts := spaces(l.Meters(), d.LongestTimber.Meters()); parts > 1 {
				t.Notes = append(t.Notes, Note{Box: p.Number, Item: ItemFaceBoard, Says: tooLong(ItemFaceBoard, d.show(l), fmt.Sprintf("join it from %d equal parts", parts))})
				l, n = unit.Length(l.Meters()/float64(parts)), n*parts
			}
		}
		t.Pieces = append(t.Pieces, Piece{Section: d.Face.Name, Length: l, Count: n, Use: ItemFaceBoard})
	}
	p.bars(func(l unit.Length, n int) {
		t.Pieces = append(t.Pieces, Piece{Section: d.Pin.Name, Length: l, Count: n, Use: ItemPin})
	})
	return d.TimberDensity.Of(d.Timber.Volume(longest))
}

// bars gives every length of pin and bar of the box, and how many.
func (p BoxPart) bars(of func(l unit.Length, n int)) {
	some := func(l unit.Length, n int) {
		if l > 0 && n > 0 {
			of(l, n)
		}
	}
	some(p.PinLength, p.Pins)
	some(p.Footing.PinLength, p.Footing.Pins)
	for _, x := range p.Banks {
		some(x.Bar, x.Bars)
		some(x.Anchor, x.Deadmen)
	}
}

func coursesAre(n int) string {
	if n == 1 {
		return "1 course is "
	}
	return fmt.Sprintf("%d courses are ", n)
}

func (t *Takeoff) addNotes(p BoxPart, d BoxDetail) {
	if p.Buried > 0 {
		t.Notes = append(t.Notes, Note{Box: p.Number, Item: ItemRiserTimber,
			Says: fmt.Sprintf("%s more than the riser: set the lowest that far below the surface in front", coursesAre(p.Courses)+d.show(p.Buried))})
	}
	if deep := unit.Length(float64(p.Courses)*d.Course().Meters()) - d.BuildUp(); deep > unit.Micrometer {
		t.Notes = append(t.Notes, Note{Box: p.Number, Item: ItemRiserTimber,
			Says: fmt.Sprintf("the timbers reach %s below the layers: trench for them, and bed them on base gravel", d.show(deep))})
	}
	switch f := p.Footing; f.Kind {
	case FootingBuried:
		t.Notes = append(t.Notes, Note{Box: p.Number, Item: ItemFootTimber,
			Says: fmt.Sprintf("buried across the foot, %s below the bottom riser timber, and pinned through it: trench %s wide", d.show(f.Depth), d.show(f.Width))})
	case FootingPiers:
		t.Notes = append(t.Notes, Note{Box: p.Number, Item: ItemPierBracket,
			Says: fmt.Sprintf("%d piers %s across and %s deep under the bottom riser timber, their tops level with its underside; below frost where the local code asks for it", f.Count, d.show(f.Width), d.show(f.Depth))})
	case FootingConcrete:
		t.Notes = append(t.Notes, Note{Box: p.Number, Item: ItemAnchorBolt,
			Says: fmt.Sprintf("a concrete strip %s wide and %s deep under the bottom riser timber; below frost where the local code asks for it", d.show(f.Width), d.show(f.Depth))})
	}
	if proud := d.FaceProud(); p.FaceBoards > 0 && proud > unit.Micrometer {
		t.Notes = append(t.Notes, Note{Box: p.Number, Item: ItemFaceBoard,
			Says: fmt.Sprintf("the face boards stand %s before the timber: the tread in front is so much less deep", d.show(proud))})
	}
}

// sum makes the items out of the boxes, in a fixed order, and joins equal
// pieces.
func (t *Takeoff) sum() {
	d := t.detail
	t.Pieces = joinPieces(t.Pieces)
	timber := func(id string, section Section) {
		var q Quantity
		for _, p := range t.Pieces {
			if p.Use == id {
				q.Count += p.Count
				q.Length += unit.Length(float64(p.Count) * p.Length.Meters())
			}
		}
		if q.Count == 0 {
			return
		}
		q.Volume = section.Volume(q.Length)
		q.Mass = d.TimberDensity.Of(q.Volume)
		t.Items = append(t.Items, Item{ID: id, Section: section.Name, Need: q, Order: q, Note: "the cut plan says what to buy and what is left over; mass is dry"})
	}
	for _, id := range []string{ItemRiserTimber, ItemSideTimber, ItemCrossPiece, ItemLandingTimber, ItemFootTimber, ItemBankTimber, ItemDeadman, ItemDeadmanCross} {
		timber(id, d.Timber)
	}
	timber(ItemFaceBoard, d.Face)

	var pins, screws Quantity
	spikes, brackets, anchors, faceScrews, concrete := 0, 0, 0, 0, 0.0
	var topping, fill, base, fabric float64
	for _, p := range t.Boxes {
		p.bars(func(l unit.Length, n int) {
			pins.Count += n
			pins.Length += unit.Length(float64(n) * l.Meters())
		})
		screws.Count += p.Screws
		spikes += p.Spikes
		faceScrews += p.FaceScrews
		concrete += p.Footing.Concrete.CubicMeters()
		switch p.Footing.Kind {
		case FootingPiers:
			brackets += p.Footing.Anchors
		case FootingConcrete:
			anchors += p.Footing.Anchors
		}
		topping += p.Topping.CubicMeters()
		fill += p.Fill.CubicMeters()
		base += p.Base.CubicMeters()
		fabric += p.Fabric.SquareMeters()
	}
	if pins.Count > 0 {
		pins.Volume = d.Pin.Volume(pins.Length)
		pins.Mass = SteelDensity.Of(pins.Volume)
		order := Quantity{Count: more(pins.Count, d.Waste.Pins)}
		f := float64(order.Count) / float64(pins.Count)
		order.Length = unit.Length(pins.Length.Meters() * f)
		order.Volume = unit.Volume(pins.Volume.CubicMeters() * f)
		order.Mass = SteelDensity.Of(order.Volume)
		t.Items = append(t.Items, Item{ID: ItemPin, Section: d.Pin.Name, Need: pins, Waste: d.Waste.Pins, Order: order, Note: "driven flush or just below the timber's top"})
	}
	if screws.Count > 0 {
		t.Items = append(t.Items, Item{ID: ItemScrew, Need: screws, Waste: d.Waste.Screws, Order: Quantity{Count: more(screws.Count, d.Waste.Screws)},
			Note: fmt.Sprintf("%d a joint", d.ScrewsPerJoint)})
	}
	counted := func(id string, n int, waste float64, note string) {
		if n > 0 {
			t.Items = append(t.Items, Item{ID: id, Need: Quantity{Count: n}, Waste: waste, Order: Quantity{Count: more(n, waste)}, Note: note})
		}
	}
	counted(ItemDeckScrew, faceScrews, d.Waste.Screws, "two in a row through each face board")
	spike := "the timber's height and 4 to 5 in more (common practice, from memory)"
	if d.Spike > 0 {
		spike = d.show(d.Spike) + " long"
	}
	counted(ItemSpike, spikes, d.Waste.Screws, "through each bank timber into the one below: 3/8 in, "+spike)
	counted(ItemPierBracket, brackets, 0, "one a pier, for wood in contact with the ground")
	counted(ItemAnchorBolt, anchors, 0, "1/2 in, galvanised, set in the concrete")
	if concrete > 0 {
		t.Items = append(t.Items, concreteItem(unit.Volume(concrete), d.Footing.Bag, d.Footing.ConcreteDensity, d.Waste.Concrete))
	}
	gravel := func(id string, a Aggregate, v float64) {
		if v <= 0 {
			return
		}
		need := Quantity{Volume: unit.Volume(v)}
		need.Mass = a.Compacted.Of(need.Volume)
		order := Quantity{Volume: unit.Volume(v * (1 + d.Waste.Gravel) * a.Factor())}
		order.Mass = a.Loose.Of(order.Volume)
		t.Items = append(t.Items, Item{ID: id, Need: need, Waste: d.Waste.Gravel, Order: order,
			Note: fmt.Sprintf("%s: need is compacted in place, order is loose, %.3f times that and the waste", a.Name, a.Factor())})
	}
	gravel(ItemBase, d.BaseGravel, base+d.TrenchBase.CubicMeters())
	gravel(ItemFill, d.FillGravel, fill)
	gravel(ItemTopping, d.ToppingGravel, topping)
	if fabric > 0 {
		t.Items = append(t.Items, Item{ID: ItemFabric, Need: Quantity{Area: unit.Area(fabric)}, Waste: d.Waste.Fabric,
			Order: Quantity{Area: unit.Area(fabric * (1 + d.Waste.Fabric))}, Note: "laps are in the need"})
	}
}

// more adds a waste fraction to a count and rounds up to whole ones.
func more(n int, waste float64) int {
	return int(math.Ceil(float64(float64(n)*(1+waste)) - 1e-9))
}

// joinPieces adds up pieces of one section, use and length, longest first
// within a use.
func joinPieces(list []Piece) []Piece {
	rank := map[string]int{ItemRiserTimber: 1, ItemSideTimber: 2, ItemCrossPiece: 3, ItemLandingTimber: 4, ItemFootTimber: 5, ItemBankTimber: 6, ItemDeadman: 7, ItemDeadmanCross: 8, ItemFaceBoard: 9, ItemPin: 10}
	sort.SliceStable(list, func(i, j int) bool {
		if a, b := rank[list[i].Use], rank[list[j].Use]; a != b {
			return a < b
		}
		return list[i].Length > list[j].Length
	})
	var out []Piece
	for _, p := range list {
		if n := len(out); n > 0 {
			q := &out[n-1]
			// A nanometre apart is the same cut: treads differ in their last bits.
			if q.Section == p.Section && q.Use == p.Use && math.Abs(q.Length.Meters()-p.Length.Meters()) < 1e-9 {
				q.Count += p.Count
				continue
			}
		}
		out = append(out, p)
	}
	return out
}

// Treat returns the take-off with the preservative for every timber end that
// the cut plan cuts on site, ends × section area × coats ÷ coverage, and for
// the wood that joints and rebates lay bare. Factory ends and bars take none. A
// take-off without boxes is returned as it is.
func (t Takeoff) Treat(plan CutPlan) Takeoff {
	d := t.detail
	ends, faces := 0, 0
	for _, b := range plan.Boards {
		switch b.Section {
		case d.Timber.Name:
			ends += b.Count * b.CutEnds()
		case d.Face.Name:
			faces += b.Count * b.CutEnds()
		}
	}
	notched := 0.0
	for _, p := range t.Boxes {
		notched += p.Notched.SquareMeters()
	}
	if (ends == 0 && faces == 0 && notched == 0) || d.Coats == 0 || d.Coverage <= 0 {
		return t
	}
	area := float64(float64(ends) * d.Timber.Area().SquareMeters())
	area += float64(float64(faces)*d.Face.Area().SquareMeters()) + notched
	litres := area * float64(d.Coats) / d.Coverage.SquareMeters()
	need := Quantity{Count: ends + faces, Area: unit.Area(area), Volume: unit.Volume(litres) * unit.Liter}
	order := need
	order.Volume = unit.Volume(litres*(1+d.Waste.Preservative)) * unit.Liter
	note := fmt.Sprintf("%d ends cut on site", ends+faces)
	if notched > 0 {
		note += " and the wood laid bare in joints and rebates"
	}
	t.Items = append(append([]Item(nil), t.Items...), Item{ID: ItemPreservative, Need: need, Waste: d.Waste.Preservative, Order: order,
		Note: fmt.Sprintf("%s, %d coats", note, d.Coats)})
	return t
}
