package materials

import (
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/martinlindhe/unit"
)

// Density is mass per volume in kilograms per cubic metre.
type Density float64

// Of returns the mass of a volume.
func (d Density) Of(v unit.Volume) unit.Mass {
	return unit.Mass(float64(d)*v.CubicMeters()) * unit.Kilogram
}

// poundsPerCubicFoot and poundsPerCubicYard turn the figures of the sources
// into kilograms per cubic metre: 1 lb = 0.45359237 kg exactly.
const (
	poundsPerCubicFoot = Density(0.45359237 / (0.3048 * 0.3048 * 0.3048))
	poundsPerCubicYard = Density(0.45359237 / (0.9144 * 0.9144 * 0.9144))
)

// SteelDensity is that of reinforcing bar: ASTM A615 gives a No. 4 bar, 1/2 in
// thick, 0.668 lb/ft, which is 7850 kg/m³ (from memory).
const SteelDensity Density = 7850

// Section is what a timber or a bar measures across. Sizes are actual
// (dressed), never nominal. The zero Section is refused wherever one is wanted.
type Section struct {
	_ [0]func() // not comparable, which spares code: see DEVELOPERS.md
	// Name is the trade's name, "6x6" or "100x200", and the key that ties
	// pieces to stock.
	Name string
	// Thickness and Width are the smaller and the larger side. Of a bar both
	// are its diameter. From 3 mm to 1 m.
	Thickness, Width unit.Length
	// Round is set for a bar.
	Round bool
	// Source is where the sizes are from; FromMemory says that it was not
	// looked up again.
	Source     string
	FromMemory bool
}

// pi as a constant, so that no rounding depends on the platform's library.
const pi = 3.14159265358979323846264338327950288

// Area returns the area of the cross-section.
func (s Section) Area() unit.Area {
	a := s.Thickness.Meters() * s.Width.Meters()
	if s.Round {
		a *= pi / 4
	}
	return unit.Area(a) * unit.SquareMeter
}

// Volume returns the volume of a length of the section.
func (s Section) Volume(l unit.Length) unit.Volume {
	return unit.Volume(s.Area().SquareMeters()*l.Meters()) * unit.CubicMeter
}

func (s Section) check(field string, faults *Faults) {
	c := below(field, faults)
	if s.Name == "" {
		c.add("name", "", "has no name", `give the section a name, as "6x6"`)
	}
	c.length("thickness", s.Thickness, 3*unit.Millimeter, unit.Meter)
	c.length("width", s.Width, 3*unit.Millimeter, unit.Meter)
	if finite(s.Thickness.Meters()) && finite(s.Width.Meters()) && s.Thickness > s.Width {
		c.wrong("thickness", s.Thickness, "is more than the width", "give the smaller side as the thickness")
	}
}

// Where the sizes are from.
const (
	sourceDimension = "NDS 2018 Supplement, Table 1A, dry (restates PS 20-20, American Softwood Lumber Standard)"
	sourceTimbers   = "NDS Supplement, Table 1B: timbers nominal 5 in and up are dressed 1/2 in less each way; PS 20 allows more off 7 in and up, so measure yours"
	sourceBoards    = "American Softwood Lumber Standard PS 20, boards, dry"
	sourceMeasured  = "as its name gives it, in millimetres"
	sourceSleeper   = "common practice: new landscaping sleepers and treated pine sleepers are sold at their actual size"
	sourceUsed      = "common practice: nominal size of a used railway sleeper"
	sourceUK        = "BS EN 336, target sizes of machined softwood (T2)"
	sourceBar       = "ASTM A615/A615M, nominal diameters"
	sourceBarMetric = "common practice: nominal diameters of metric reinforcing bar"
)

const inch = unit.Inch

// Sections returns every section known by name: dimension lumber and timbers
// of North America, sleepers and machined softwood in millimetres, and
// reinforcing bars for pins. The caller may change the slice.
func Sections() []Section { return slices.Clone(knownSections()) }

var knownSections = sync.OnceValue(listSections)

func listSections() []Section {
	var list []Section
	dressed := func(n int) unit.Length { // PS 20 dry widths
		switch {
		case n <= 6:
			return unit.Length(float64(n)-0.5) * inch
		default:
			return unit.Length(float64(n)-0.75) * inch
		}
	}
	for _, t := range []int{2, 4} {
		for _, w := range []int{4, 6, 8, 10, 12} {
			list = append(list, Section{
				Name:      strconv.Itoa(t) + "x" + strconv.Itoa(w),
				Thickness: dressed(t), Width: dressed(w),
				Source: sourceDimension,
			})
		}
	}
	for _, n := range [][2]int{{6, 6}, {6, 8}, {6, 10}, {8, 8}, {8, 10}} {
		list = append(list, Section{
			Name:      strconv.Itoa(n[0]) + "x" + strconv.Itoa(n[1]),
			Thickness: unit.Length(float64(n[0])-0.5) * inch, Width: unit.Length(float64(n[1])-0.5) * inch,
			Source: sourceTimbers, FromMemory: true,
		})
	}
	metric := func(t, w int, source string, memory bool) {
		list = append(list, Section{
			Name:      strconv.Itoa(t) + "x" + strconv.Itoa(w),
			Thickness: millimetres(t), Width: millimetres(w),
			Source: source, FromMemory: memory,
		})
	}
	for _, n := range [][2]int{{50, 200}, {75, 200}, {100, 200}, {125, 250}} {
		metric(n[0], n[1], sourceSleeper, true)
	}
	metric(130, 260, sourceUsed, true)
	for _, w := range []int{97, 145, 170, 195, 220} {
		metric(47, w, sourceUK, false)
	}
	for _, n := range []int{3, 4, 5} {
		d := unit.Length(float64(n)/8) * inch
		list = append(list, Section{Name: "no" + strconv.Itoa(n) + "-bar", Thickness: d, Width: d, Round: true, Source: sourceBar, FromMemory: true})
	}
	for _, n := range []int{10, 12, 16} {
		d := millimetres(n)
		list = append(list, Section{Name: strconv.Itoa(n) + "mm-bar", Thickness: d, Width: d, Round: true, Source: sourceBarMetric, FromMemory: true})
	}
	return list
}

// SectionByName returns the section of that name, of the list or by its size: a
// name such as 3x8, 1x4 or 5/4x4 is dressed as lumber of those nominal inches is,
// one such as 45x120 measures as many millimetres. Case, spaces and the sign
// between the sides ("6 x 6", "6×6") do not matter.
func SectionByName(name string) (Section, error) {
	key := sectionKey(name)
	for _, s := range knownSections() {
		if s.Name == key {
			return s, nil
		}
	}
	if s, ok := sectionBySize(key); ok {
		return s, nil
	}
	return Section{}, Faults{{Got: shorten(name), Problem: "is not a section known by name",
		Fix: `write one of 4x4, 6x6, 6x8, 100x200, no4-bar and the like, or a size such as 3x8 in inches or 45x120 in millimetres`}}
}

// Dressed are sections that measure otherwise than the tables say: of the mill
// that somebody buys from.
type Dressed []Section

// ByName is [FramedSectionByName] that knows them.
func (d Dressed) ByName(name string) (Section, error) {
	s, err := FramedSectionByName(name)
	d.Size(&s)
	return s, err
}

// Size gives a section that is one of them its size.
func (d Dressed) Size(s *Section) {
	for i := range d {
		if d[i].Name == s.Name {
			*s = d[i]
		}
	}
}

// sectionBySize is the section that a name in the manner of the list says, the
// smaller side first: nominal inches of lumber, up to 12 by 24, or millimetres
// from 20 to 500, which are the size itself.
func sectionBySize(key string) (Section, bool) {
	_, wide, ok := strings.Cut(key, "x")
	if !ok {
		return Section{}, false
	}
	t := nominalInches(key)
	w, err := strconv.ParseFloat(wide, 64)
	s := Section{Name: key, FromMemory: true}
	if err != nil || !(w > 0) {
		return s, false
	}
	if t == 0 {
		thin, _, _ := strings.Cut(key, "x")
		if t, err = strconv.ParseFloat(thin, 64); err != nil || !(t >= 20 && t <= w && w <= 500) {
			return s, false
		}
		s.Thickness, s.Width, s.Source = unit.Length(t/1000), unit.Length(w/1000), sourceMeasured
		return s, true
	}
	if !(t >= 1 && t <= 12 && t <= w && w <= 24) {
		return s, false
	}
	s.Thickness, s.Width, s.Source = unit.Length(t-0.5)*inch, unit.Length(w-0.5)*inch, sourceTimbers
	if t < 5 {
		s.Source = sourceDimension
		if t < 2 {
			s.Thickness, s.Source = unit.Length(t-0.25)*inch, sourceBoards
		}
		if w >= 8 {
			s.Width = unit.Length(w-0.75) * inch
		}
	}
	return s, true
}

// sectionKey brings a section's name to the form of the list.
func sectionKey(name string) string {
	return strings.ReplaceAll(strings.ReplaceAll(strings.ToLower(strings.TrimSpace(name)), "×", "x"), " ", "")
}
