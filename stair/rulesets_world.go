package stair

import "github.com/martinlindhe/unit"

// Rule sets of Australia, Canada and New Zealand.

// ncc is a stair of the National Construction Code, its goings from goingMin
// millimetres.
func ncc(id string, goingMin unit.Length) []Rule {
	const from = "National Construction Code, Housing Provisions"
	return []Rule{
		{ID: id + "-SCOPE", Quantity: Scope, Op: Binds, Severity: Note, Clause: "scope", Source: "National Construction Code", Remembered: true,
			Text: "it is for stairs that are part of a building"},
		{ID: id + "-RISE", Quantity: RiserHeight, Op: Within, Min: length(115 * mm), Max: length(190 * mm), Severity: Stop, Clause: "11.2.2"},
		{ID: id + "-GOING", Quantity: TreadDepth, Op: Within, Min: length(goingMin), Max: length(355 * mm), Severity: Stop, Clause: "11.2.2"},
		{ID: id + "-SUM", Quantity: StepSum, Op: Within, Min: length(550 * mm), Max: length(700 * mm), Severity: Stop, Clause: "11.2.2"},
		{ID: id + "-N", Quantity: FlightRisers, Op: Within, Min: count(2), Max: count(18), Severity: Stop, Clause: "11.2.2", Source: from, Remembered: true},
		{ID: id + "-RISE-NEXT", Quantity: RiserAdjacent, Op: AtMost, Max: length(5 * mm), Severity: Stop, Clause: "11.2.2", Source: from, Remembered: true},
		{ID: id + "-RISE-UNI", Quantity: RiserSpread, Op: AtMost, Max: length(10 * mm), Severity: Stop, Clause: "11.2.2", Source: from, Remembered: true},
		{ID: id + "-GOING-NEXT", Quantity: TreadAdjacent, Op: AtMost, Max: length(5 * mm), Severity: Stop, Clause: "11.2.2", Source: from, Remembered: true},
		{ID: id + "-GOING-UNI", Quantity: TreadSpread, Op: AtMost, Max: length(10 * mm), Severity: Stop, Clause: "11.2.2", Source: from, Remembered: true},
		{ID: id + "-OPEN", Quantity: RiserGap, Op: LessThan, Max: length(125 * mm), Severity: Stop, Clause: "11.2.2", Source: from, Remembered: true,
			Text: "a 125 mm sphere must not pass between treads"},
		{ID: id + "-LAND", Quantity: LandingDepth, Op: AtLeast, Min: length(750 * mm), Severity: Stop, Clause: "11.2.5", Source: from, Remembered: true},
		{ID: id + "-LAND-SLOPE", Quantity: LandingWash, Op: AtMost, Max: ratio(1.0 / 50), Severity: Stop, Clause: "11.2.5", Source: from, Remembered: true},
		{ID: id + "-BAR", Quantity: GuardAt, Op: From, Min: length(1000 * mm), Severity: Warn, Clause: "11.3", Source: from, Remembered: true,
			Text: "handrails at 865 mm"},
	}
}

func nccPrivate() RuleSet {
	return RuleSet{
		ID: "ncc-private", Name: "NCC, private stair (Australia)", Kind: Code, Place: "Australia",
		Applies: "Stairs of dwellings, inside and out, where they are part of the building; not a free-standing garden path.",
		Rules:   rules("2022", "National Construction Code, volume 1 Table D3D14 (private) and Housing Provisions 11.2.2, at second hand", ncc("AU", 240*mm)),
	}
}

func nccPublic() RuleSet {
	return RuleSet{
		ID: "ncc-public", Name: "NCC, public stair (Australia)", Kind: Code, Place: "Australia",
		Applies: "Stairs of buildings that the public uses, inside and out, where they are part of the building; not a free-standing garden path. What is not in volume 1 Table D3D14 is as for dwellings.",
		Rules:   rules("2022", "National Construction Code, volume 1 Table D3D14 (public), at second hand", ncc("AUP", 250*mm)),
	}
}

const (
	obc     = "Ontario Building Code"
	obcText = "O.Reg. 332/12"
	nbc     = "National Building Code of Canada and Ontario Building Code, Part 9"
)

// ca is what private and public stairs under Part 9 share; runMin is the least
// run of their wedges on the walkline.
func ca(id string, runMin unit.Length) []Rule {
	return []Rule{
		{ID: id + "-SCOPE", Quantity: Scope, Op: Binds, Severity: Note, Clause: "9.8.1", Remembered: true, Text: "it is for stairs of buildings"},
		{ID: id + "-RISE-NEXT", Quantity: RiserAdjacent, Op: AtMost, Max: length(5 * mm), Severity: Stop, Clause: "9.8.4.4", Edition: obcText, Source: obc,
			Text: "the end riser on a sloping walk may taper by 1:12 across the stair, (2)"},
		{ID: id + "-RISE-UNI", Quantity: RiserSpread, Op: AtMost, Max: length(10 * mm), Severity: Stop, Clause: "9.8.4.4", Edition: obcText, Source: obc},
		{ID: id + "-RUN-NEXT", Quantity: TreadAdjacent, Op: AtMost, Max: length(5 * mm), Severity: Stop, Clause: "9.8.4.4", Edition: obcText, Source: obc},
		{ID: id + "-RUN-UNI", Quantity: TreadSpread, Op: AtMost, Max: length(10 * mm), Severity: Stop, Clause: "9.8.4.4", Edition: obcText, Source: obc},
		{ID: id + "-TSLOPE", Quantity: TreadWash, Op: AtMost, Max: ratio(1.0 / 50), Severity: Stop, Clause: "9.8.4.4.(5)", Edition: obcText, Source: obc},
		{ID: id + "-TSLOPE-ACROSS", Quantity: Outslope, Op: AtMost, Max: ratio(1.0 / 50), Severity: Stop, Clause: "9.8.4.4.(5)", Edition: obcText, Source: obc},
		{ID: id + "-TAPER", Quantity: WedgeWalkline, Op: Within, Min: length(runMin), Max: length(355 * mm), Walkline: &Walkline{Offset: 300 * mm}, Severity: Stop, Clause: "9.8.4.3", Edition: obcText, Source: obc,
			Text: "300 mm from the centre line of the inside handrail"},
		{ID: id + "-TAPER-MIN", Quantity: WedgeNarrow, Op: AtLeast, Min: length(150 * mm), Severity: Stop, Clause: "9.8.4.3", Edition: obcText, Source: obc},
		{ID: id + "-FLIGHT", Quantity: FlightRise, Op: AtMost, Max: length(3700 * mm), Severity: Stop, Clause: "9.8.3.3", Edition: obcText, Source: obc},
	}
}

const caNoLanding = " The landing at the foot of an outdoor stair may be left out where no gate, door or obstruction is nearer than the lesser of the stair's width and 1100 mm (9.8.6.2.(3))."

func caPrivate() RuleSet {
	return RuleSet{
		ID: "ca-private", Name: "NBC / OBC 9.8, private stair (Canada)", Kind: Code, Place: "Canada",
		Applies: "Stairs of houses and small buildings; not a free-standing garden path." + caNoLanding,
		Rules: rules("NBC 2015, 2020; O.Reg. 332/12", nbc, append([]Rule{
			{ID: "CA-RISE", Quantity: RiserHeight, Op: Within, Min: length(125 * mm), Max: length(200 * mm), Severity: Stop, Clause: "Table 9.8.4.1", Remembered: true},
			{ID: "CA-RUN", Quantity: TreadDepth, Op: Within, Min: length(255 * mm), Max: length(355 * mm), Severity: Stop, Clause: "Table 9.8.4.1", Remembered: true},
			{ID: "CA-NOSE", Quantity: NosingDepth, Op: AtMost, Max: length(25 * mm), Severity: Stop, Clause: "9.8.4.2", Edition: obcText, Source: obc,
				Text: "treads are as deep as the run, or up to 25 mm deeper"},
			{ID: "CA-HR", Quantity: HandrailAt, Op: From, Min: count(4), Sides: 1, Severity: Warn, Clause: "9.8.7", Remembered: true, Text: "exterior stair of one dwelling: none for 3 risers or fewer"},
			{ID: "CA-GUARD", Quantity: GuardAt, Op: Over, Min: length(600 * mm), Severity: Warn, Clause: "9.8.8", Remembered: true, Text: "900 mm high up to a drop of 1.8 m, then 1070 mm"},
		}, caPrivateRest()...)),
	}
}

// caPrivateRest is what private stairs share with public ones; the run that
// wedges must have on the walkline is a figure from memory here.
func caPrivateRest() []Rule {
	rest := ca("CA", 255*mm)
	for i := range rest {
		if rest[i].Quantity == WedgeWalkline {
			rest[i].Remembered = true
		}
	}
	return rest
}

func caPublic() RuleSet {
	return RuleSet{
		ID: "ca-public", Name: "OBC, public stair (Canada)", Kind: Code, Place: "Canada",
		Applies: "Stairs of buildings that the public uses; not a free-standing garden path. Uniformity, slope, wedge treads and flights are those of 9.8." + caNoLanding,
		Rules: rules(obcText, obc, append([]Rule{
			{ID: "CAP-RISE", Quantity: RiserHeight, Op: Within, Min: length(125 * mm), Max: length(180 * mm), Severity: Stop, Clause: "3.4.6 (number from memory)"},
			{ID: "CAP-RUN", Quantity: TreadDepth, Op: Within, Min: length(280 * mm), Max: length(355 * mm), Severity: Stop, Clause: "3.4.6 (number from memory)"},
			{ID: "CAP-GUARD", Quantity: GuardAt, Op: Over, Min: length(600 * mm), Severity: Warn, Clause: "9.8.8", Edition: "NBC 2015, 2020", Source: nbc, Remembered: true, Text: "900 mm high up to a drop of 1.8 m, then 1070 mm"},
		}, ca("CAP", 280*mm)...)),
	}
}

// nz is a kind of stair of D1/AS1: millimetres and degrees.
func nz(id, set, name, applies string, riser, tread unit.Length, pitch float64) RuleSet {
	return RuleSet{
		ID: set, Name: name, Kind: Code, Place: "New Zealand", Applies: applies,
		Rules: rules("as remembered", "New Zealand Building Code, Acceptable Solution D1/AS1", []Rule{
			{ID: id + "-SCOPE", Quantity: Scope, Op: Binds, Severity: Note, Clause: "D1", Source: "New Zealand Building Code", Remembered: true, Text: "it is for access routes of buildings"},
			{ID: id + "-RISE", Quantity: RiserHeight, Op: AtMost, Max: length(riser), Severity: Stop, Clause: "Table 6", Remembered: true},
			{ID: id + "-TREAD", Quantity: TreadDepth, Op: AtLeast, Min: length(tread), Severity: Stop, Clause: "Table 6", Remembered: true},
			{ID: id + "-PITCH", Quantity: FlightPitch, Op: AtMost, Max: degrees(pitch), Severity: Stop, Clause: "Table 6", Remembered: true},
			{ID: id + "-SINGLE", Quantity: FlightRisers, Op: AtLeast, Min: count(2), Severity: Stop, Clause: "D1.3.3", Edition: "as read online",
				Source: "New Zealand Building Code, as given by Standards New Zealand, “Stair design”", Text: "no isolated steps or single risers"},
		}),
	}
}

func nzAccessible() RuleSet {
	return nz("NZA", "nz-accessible", "D1/AS1, accessible stair (New Zealand)",
		"Stairs that people with disabilities use, in and about buildings; not a free-standing garden path.", 180*mm, 310*mm, 32)
}

func nzMain() RuleSet {
	return nz("NZC", "nz-main", "D1/AS1, common or main private stair (New Zealand)",
		"Stairs several households share, and the main stair of a dwelling; not a free-standing garden path.", 190*mm, 280*mm, 37)
}

func nzSecondary() RuleSet {
	return nz("NZS", "nz-secondary", "D1/AS1, secondary private stair (New Zealand)",
		"A dwelling's stairs beside the main one; not a free-standing garden path.", 200*mm, 250*mm, 41)
}

func nzMinor() RuleSet {
	return nz("NZM", "nz-minor", "D1/AS1, minor private stair (New Zealand)",
		"A dwelling's stairs to a single room or the like; not a free-standing garden path.", 220*mm, 220*mm, 47)
}

func nzOutdoor() RuleSet {
	return RuleSet{
		ID: "nz-outdoor", Name: "Auckland, universal design of outdoor stairs (New Zealand)", Kind: Advice, Place: "New Zealand",
		Applies: "Advice of a city for stairs outdoors that everybody uses; binds nobody.",
		Rules: rules("as read online", "Auckland Design Manual, universal design checklist for stairs", []Rule{
			{ID: "AKL-RISE", Quantity: RiserHeight, Op: AtMost, Max: length(180 * mm), Severity: Stop, Clause: "external steps"},
			{ID: "AKL-TREAD", Quantity: TreadDepth, Op: AtLeast, Min: length(310 * mm), Severity: Stop, Clause: "external steps"},
			{ID: "AKL-RISE-GOOD", Quantity: RiserHeight, Op: Within, Min: length(150 * mm), Max: length(180 * mm), Severity: Note, Clause: "steps"},
			{ID: "AKL-TREAD-GOOD", Quantity: TreadDepth, Op: Within, Min: length(310 * mm), Max: length(450 * mm), Severity: Note, Clause: "steps"},
			{ID: "AKL-FLIGHT", Quantity: FlightRise, Op: AtMost, Max: length(1800 * mm), Severity: Stop, Clause: "landings"},
			{ID: "AKL-STEPS", Quantity: FlightRisers, Op: AtMost, Max: count(12), Severity: Stop, Clause: "landings"},
			{ID: "AKL-EQUAL", Quantity: EqualFlights, Op: AtMost, Max: count(0), Severity: Warn, Clause: "landings", Text: "as many steps in each section"},
			{ID: "AKL-LAND", Quantity: LandingDepth, Op: AtLeast, Min: length(1200 * mm), Severity: Stop, Clause: "landings"},
		}),
	}
}
