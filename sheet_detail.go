package slopewright

import (
	"math"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/earthwork"
	"github.com/slopewright/slopewright/materials"
)

// boxWork is how the boxes of a result are built, read back from it: what the
// drawings and the sheet show of the timbers and the layers.
type boxWork struct {
	detail materials.BoxDetail
	width  unit.Length
	// Parts are what each box takes, by riser.
	parts map[int]materials.BoxPart
}

// boxWork reads the detail back from the result: the section from the take-off,
// the courses from the number of riser timbers, the base from the trench at the
// first riser, the other layers from what is left of the build-up. What it
// found is held against the take-off; ok is false for a result whose first step
// is no box to be built, or whose timbers so built are others than its own.
func (r Result) boxWork() (w boxWork, ok bool) {
	var boxes []materials.Box
	for i, s := range r.Layout.Steps {
		last := i == len(r.Layout.Steps)-1
		if !r.framed(i) && !(last && s.Kind == "framed") {
			boxes = append(boxes, materials.Box{Number: s.Riser, Riser: r.Layout.Riser, Tread: s.Tread, Landing: s.Landing})
		}
	}
	risers, found := r.item(materials.ItemRiserTimber)
	if !found || len(boxes) == 0 || risers.Count%len(boxes) != 0 || risers.Length == nil || len(r.Dig.Steps) != len(r.Layout.Steps) || r.framed(0) || r.Layout.Steps[0].Stands {
		return w, false
	}
	timber, err := materials.SectionByName(risers.Section)
	if err != nil {
		return w, false
	}
	courses := risers.Count / len(boxes)
	w.width = *risers.Length / unit.Length(risers.Count)
	for i := range boxes {
		boxes[i].Width = w.width
	}
	for _, edge := range []bool{false, true} {
		d := materials.DefaultBoxDetail()
		d.Timber, d.OnEdge, d.LongestTimber = timber, edge, 0
		for _, b := range r.CutPlan.Boards {
			if b.Section == timber.Name && b.Length > d.LongestTimber {
				d.LongestTimber = b.Length
			}
		}
		// The bedding allowed is what this many courses leave.
		d.MaxBedding = r.Layout.Riser - unit.Length(courses)*d.Course()
		if d.MaxBedding < 0 {
			d.MaxBedding = 0
		}
		n, _, buried := d.Courses(r.Layout.Riser)
		if n != courses {
			continue
		}
		if pins, found := r.item(materials.ItemPin); found && pins.Count > 0 && pins.Length != nil {
			d.PinLength, d.PinGround = *pins.Length/unit.Length(pins.Count), 0
		}
		// A trench is as deep as the base and what is buried: see maker.trench.
		across := float64(d.Breadth()+2*trenchClearance) * float64(r.Dig.FormationWidth)
		d.Base = unit.Length(float64(r.Dig.Steps[0].TrenchBank)/across) - buried
		d.Fill, d.Topping = 0, r.Dig.BuildUp-d.Base
		if _, found := r.item(materials.ItemTopping); !found {
			d.Topping, d.Fill = 0, d.Topping
		}
		d.Base, d.Topping, d.Fill = whole(d.Base), whole(d.Topping), whole(d.Fill)
		if d.Base < 0 || d.Topping < 0 {
			continue
		}
		if boxes[len(boxes)-1].Tread == 0 {
			d.HeadReturn = r.headReturn(boxes, d, courses)
		}
		if t, ok := r.explains(boxes, &d); ok {
			w.detail, w.parts = d, map[int]materials.BoxPart{}
			for _, p := range t.Boxes {
				w.parts[p.Number] = p
			}
			return w, true
		}
	}
	return w, false
}

// whole takes the last bits of a division off a length: to 1/100 mm.
func whole(l unit.Length) unit.Length {
	return unit.Length(math.Round(l.Meters()*1e5) / 1e5)
}

// headReturn is the length of the sides behind the last riser: what the side
// timbers of the other boxes leave of the take-off's.
func (r Result) headReturn(boxes []materials.Box, d materials.BoxDetail, courses int) unit.Length {
	sides, found := r.item(materials.ItemSideTimber)
	if !found || sides.Length == nil {
		return 0
	}
	t, err := materials.TakeOff(boxes[:len(boxes)-1], d)
	if len(boxes) == 1 || err != nil {
		return *sides.Length / unit.Length(2*courses)
	}
	left := *sides.Length
	for _, p := range t.Boxes {
		left -= unit.Length(p.Sides) * p.SideTimber
	}
	// The last of those boxes has none above it here: it bears on none.
	if _, _, buried := d.Courses(r.Layout.Riser); buried == 0 {
		left -= unit.Length(2*courses) * d.Breadth()
	}
	return whole(left / unit.Length(2*courses))
}

// explains holds a take-off to the detail against the result's: timbers by
// number and length, gravel by volume. Where there is a fill below the topping,
// it finds how the two share their depth.
func (r Result) explains(boxes []materials.Box, d *materials.BoxDetail) (materials.Takeoff, bool) {
	rest := d.Topping
	_, filled := r.item(materials.ItemFill)
	if top, topped := r.item(materials.ItemTopping); filled && topped && top.Volume != nil {
		low, high := unit.Length(0), rest
		for range 50 {
			d.Topping = (low + high) / 2
			d.Fill = rest - d.Topping
			t, err := materials.TakeOff(boxes, *d)
			if err != nil {
				return t, false
			}
			if need(t, materials.ItemTopping).Volume < *top.Volume {
				low = d.Topping
			} else {
				high = d.Topping
			}
		}
		d.Topping = whole(d.Topping)
		d.Fill = rest - d.Topping
	}
	t, err := materials.TakeOff(boxes, *d)
	if err != nil {
		return t, false
	}
	near := func(a, b float64) bool { return math.Abs(a-b) <= 1e-4*(1+math.Abs(b)) }
	for _, id := range []string{materials.ItemRiserTimber, materials.ItemSideTimber, materials.ItemTopping} {
		got, want := need(t, id), materials.Quantity{}
		if i, found := r.item(id); found {
			want.Count = i.Count
			if i.Length != nil {
				want.Length = *i.Length
			}
			if i.Volume != nil && i.Length == nil {
				want.Volume = *i.Volume
				if !near(float64(got.Volume), float64(want.Volume)) {
					return t, false
				}
			}
		}
		if got.Count != want.Count || !near(float64(got.Length), float64(want.Length)) {
			return t, false
		}
	}
	return t, true
}

func need(t materials.Takeoff, id string) materials.Quantity {
	for _, i := range t.Items {
		if i.ID == id {
			return i.Need
		}
	}
	return materials.Quantity{}
}

// item is a line of the take-off.
func (r Result) item(id string) (TakeoffItem, bool) {
	for _, i := range r.Takeoff {
		if i.Item == id {
			return i, true
		}
	}
	return TakeoffItem{}, false
}

// section is the cross-section of the dig.
func (w boxWork) section(r Result) earthwork.Section {
	return earthwork.Section{
		Width: w.width, Working: (r.Dig.FormationWidth - w.width) / 2, Batter: r.Dig.Batter, FillBatter: fillBatter,
	}
}
