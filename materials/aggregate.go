package materials

// Aggregate is crushed stone, gravel or the like, as it lies in the truck and
// as it lies in the step.
type Aggregate struct {
	_ [0]func() // not comparable, which spares code: see DEVELOPERS.md
	// ID is the key, Name what a yard would call it.
	ID, Name string
	// Loose and Compacted are the densities in the truck and in place.
	Loose, Compacted Density
	// Source is where the densities are from; FromMemory says that it was not
	// looked up again.
	Source     string
	FromMemory bool
}

// Factor is loose volume to order for one volume in place.
func (a Aggregate) Factor() float64 {
	if a.Loose == 0 {
		return 0
	}
	return float64(a.Compacted) / float64(a.Loose)
}

const sourceAggregate = "WSDOT Design Manual M 22-01, Exhibit 620-1 (2015 and 2023 printings), pounds per cubic yard, dry"

// Aggregates returns the aggregates known by name. The caller may change the
// slice.
func Aggregates() []Aggregate {
	return []Aggregate{
		{ID: "crushed-base", Name: "crushed surfacing base course, 1 1/4 in minus", Loose: 2950 * poundsPerCubicYard, Compacted: 3700 * poundsPerCubicYard, Source: sourceAggregate},
		{ID: "crushed-top", Name: "crushed surfacing top course, 5/8 in minus", Loose: 2850 * poundsPerCubicYard, Compacted: 3700 * poundsPerCubicYard, Source: sourceAggregate},
		{ID: "ballast", Name: "ballast", Loose: 3100 * poundsPerCubicYard, Compacted: 3900 * poundsPerCubicYard, Source: sourceAggregate},
		{ID: "drain-rock", Name: "clean drain rock, permeable ballast", Loose: 2800 * poundsPerCubicYard, Compacted: 2800 * 1.08 * poundsPerCubicYard,
			Source: sourceAggregate + " for loose; compacted is 1.08 times that, common practice for clean stone (1.05 to 1.10)", FromMemory: true},
	}
}

// AggregateByID returns the aggregate of that key and whether there is one.
func AggregateByID(id string) (Aggregate, bool) {
	for _, a := range Aggregates() {
		if a.ID == id {
			return a, true
		}
	}
	return Aggregate{}, false
}

func (a Aggregate) check(field string, faults *Faults) {
	if a.ID == "" && a.Loose == 0 && a.Compacted == 0 {
		faults.Add(field, "", "is missing", "name an aggregate, as crushed-base, or give its densities")
		return
	}
	c := below(field, faults)
	c.number("loose", float64(a.Loose), 300, 4000)
	c.number("compacted", float64(a.Compacted), 300, 4000)
	if a.Compacted < a.Loose {
		c.add("compacted", showFloat(float64(a.Compacted)), "is less than the loose density", "give the density in place, kg/m³")
	}
}
