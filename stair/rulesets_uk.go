package stair

import "github.com/martinlindhe/unit"

const (
	adk      = "Approved Document K, Protection from falling, collision and impact"
	adk1998  = "Approved Document K, an older edition, at second hand"
	adkScope = "Approved Document K is for internal steps, and for external ones only when they are part of the building; stepped access on the way to it is for Approved Document M"
)

// adkStair is what the three kinds of stair of Approved Document K share.
// Figures are millimetres.
func adkStair(id string, riseMin, riseMax, goingMin, goingMax float64) []Rule {
	return []Rule{
		{ID: id + "-SCOPE", Quantity: Scope, Op: Binds, Severity: Note, Clause: "1.1", Text: adkScope},
		{ID: id + "-RISE", Quantity: RiserHeight, Op: Within, Min: millimetres(riseMin), Max: millimetres(riseMax), Severity: Stop, Clause: "Table 1.1"},
		{ID: id + "-GOING", Quantity: TreadDepth, Op: Within, Min: millimetres(goingMin), Max: millimetres(goingMax), Severity: Stop, Clause: "Table 1.1"},
		{ID: id + "-SUM", Quantity: StepSum, Op: Within, Min: length(550 * mm), Max: length(700 * mm), Severity: Warn, Clause: "Table 1.1, note", Text: "the “normal relationship”, guidance"},
		{ID: id + "-OVERLAP", Quantity: NosingDepth, Op: AtLeast, Min: length(16 * mm), When: &When{Faces: Open}, Severity: Stop, Clause: "Diagram 1.1",
			Text: "treads overlap over open risers"},
		{ID: id + "-HEAD", Quantity: PathHeadroom, Op: AtLeast, Min: length(2000 * mm), Severity: Stop, Clause: "headroom", Edition: "at second hand", Source: adk1998},
		{ID: id + "-LAND-GROUND", Quantity: EndSlope, Op: AtMost, Max: ratio(1.0 / 20), Severity: Warn, Clause: "1.17", Edition: "1998; 2013 not checked", Source: adk,
			Text: "ground that serves as landing, paved or firm"},
		{ID: id + "-36", Quantity: PathRisers, Op: Over, Min: count(36), Severity: Warn, Clause: "1.17", Remembered: true,
			Text: "consecutive flights change direction at least once"},
		{ID: id + "-HR", Quantity: HandrailAt, Op: From, Min: count(1), Sides: 1, Severity: Warn, Clause: "handrails", Edition: "at second hand", Source: adk1998,
			Text: "900 to 1000 mm above the line of nosings"},
		{ID: id + "-HR2", Quantity: HandrailAt, Op: From, Min: count(1), Sides: 2, When: &When{WidthFrom: 1000 * mm}, Severity: Warn, Clause: "handrails", Edition: "at second hand", Source: adk1998,
			Text: "on both sides where the stair is 1000 mm wide or wider"},
		{ID: id + "-TAPER", Quantity: WedgeStraight, Op: AtLeast, Walkline: adkWalkline(), Severity: Stop, Clause: "1.18 to 1.20 (2013: 1.25 to 1.27)", Edition: "1998", Source: adk,
			Text: "270 mm from the narrow side, or midway where the flight is less than 1 m wide: no less than the straight goings"},
		{ID: id + "-TAPER-MIN", Quantity: WedgeNarrow, Op: AtLeast, Min: length(50 * mm), Severity: Stop, Clause: "1.18 to 1.20 (2013: 1.25 to 1.27)", Edition: "1998", Source: adk},
	}
}

func adkWalkline() *Walkline { return &Walkline{Offset: 270 * mm, MidBelow: 1000 * mm} }

func millimetres(x float64) Amount { return length(unit.Length(x) * mm) }

func adkPrivate() RuleSet {
	return RuleSet{
		ID: "adk-private", Name: "Approved Document K, private stair (England)", Kind: Code, Place: "England",
		Applies: "Stairs inside a dwelling, and external steps only where they are part of the building (paragraph 1.1). A stepped approach to the door is for Approved Document M; a free-standing garden path is for neither.",
		Rules: rules("2013", adk, append(adkStair("UKK", 150, 220, 220, 300), []Rule{
			{ID: "UKK-PITCH", Quantity: FlightPitch, Op: AtMost, Max: degrees(42), Severity: Stop, Clause: "Table 1.1, note 1"},
			{ID: "UKK-TAPER-EXT", Quantity: WedgeWalkline, Op: AtLeast, Min: length(280 * mm), Walkline: adkWalkline(), Severity: Stop, Clause: "Table 1.1, note 2",
				Text: "external tapered steps; the note may be read as asking it of every external step that is part of the building"},
			{ID: "UKK-LAND", Quantity: LandingAsWide, Op: AtLeast, Severity: Stop, Clause: "landings", Edition: "an older edition, at second hand", Text: "as deep as the flight is wide"},
			{ID: "UKK-LAND-WIDE", Quantity: LandingBreadth, Op: AtLeast, Severity: Stop, Clause: "landings", Edition: "an older edition, at second hand", Text: "as broad as the flight is wide"},
			{ID: "UKK-LAND-LEVEL", Quantity: LandingWash, Op: AtMost, Max: ratio(0), Severity: Note, Clause: "landings", Edition: "an older edition, at second hand", Text: "landings are level; those the ground forms may slope 1:20"},
			{ID: "UKK-GUARD", Quantity: GuardAt, Op: Over, Min: length(600 * mm), Severity: Warn, Clause: "1.40, 1.41",
				Text: "dwellings; 900 mm high beside a stair, a 100 mm sphere must not pass, both from memory"},
		}...)),
	}
}

// adkPublic is what utility and general access stairs share beside adkStair.
func adkPublic(id string) []Rule {
	return []Rule{
		{ID: id + "-NOSE", Quantity: NosingDepth, Op: AtMost, Max: length(25 * mm), Severity: Stop, Clause: "Diagram 1.1", Text: "buildings other than dwellings"},
		{ID: id + "-12", Quantity: FlightRisers, Op: AtMost, Max: count(12), When: &When{TreadUnder: 350 * mm}, Severity: Stop, Clause: "1.18", Remembered: true,
			Text: "goings under 350 mm; 16 in small premises"},
		{ID: id + "-18", Quantity: FlightRisers, Op: AtMost, Max: count(18), When: &When{TreadFrom: 350 * mm}, Severity: Stop, Clause: "1.18", Remembered: true,
			Text: "goings of 350 mm or more"},
		{ID: id + "-LAND", Quantity: LandingDepth, Op: AtLeast, Min: length(1200 * mm), Severity: Stop, Clause: "1.23", Text: "other than dwellings"},
		{ID: id + "-GUARD", Quantity: GuardRisers, Op: From, Min: count(2), Severity: Warn, Clause: "1.40, 1.41",
			Text: "buildings other than dwellings; a 100 mm sphere must not pass, from memory"},
	}
}

func adkUtility() RuleSet {
	return RuleSet{
		ID: "adk-utility", Name: "Approved Document K, utility stair (England)", Kind: Code, Place: "England",
		Applies: "Stairs for escape, access for maintenance and the like, and external steps only where they are part of the building (paragraph 1.1); not a free-standing garden path.",
		Rules:   rules("2013", adk, append(adkStair("UKKU", 150, 190, 250, 400), adkPublic("UKKU")...)),
	}
}

func adkGeneral() RuleSet {
	return RuleSet{
		ID: "adk-general", Name: "Approved Document K, general access stair (England)", Kind: Code, Place: "England",
		Applies: "Stairs that everybody uses in buildings other than dwellings, and external steps only where they are part of the building (paragraph 1.1); not a free-standing garden path.",
		Rules:   rules("2013", adk, append(adkStair("UKKG", 150, 170, 250, 400), adkPublic("UKKG")...)),
	}
}

func admDwelling() RuleSet {
	return remembered(RuleSet{
		ID: "adm-dwelling", Name: "Approved Document M, stepped approach to a dwelling (England)", Kind: Code, Place: "England",
		Applies: "External steps on the approach to the entrance of a new dwelling, M4(1) and M4(2), where a ramp will not do; not a garden path that leads elsewhere. All its figures are from memory.",
		Rules: rules("2015 edition with 2016 amendments", "Approved Document M, volume 1, Dwellings", []Rule{
			{ID: "UKM1-SCOPE", Quantity: Scope, Op: BindsAll, Severity: Note, Clause: "stepped approach", Text: "it is for the approach to the entrance of a dwelling"},
			{ID: "UKM1-RISE", Quantity: RiserHeight, Op: Within, Min: length(75 * mm), Max: length(150 * mm), Severity: Stop, Clause: "stepped approach", Text: "uniform"},
			{ID: "UKM1-GOING", Quantity: TreadDepth, Op: AtLeast, Min: length(280 * mm), Severity: Stop, Clause: "stepped approach", Text: "uniform"},
			{ID: "UKM1-TAPER", Quantity: WedgeWalkline, Op: AtLeast, Min: length(280 * mm), Walkline: &Walkline{Offset: 270 * mm}, Severity: Stop, Clause: "stepped approach", Text: "270 mm from the inside"},
			{ID: "UKM1-WIDTH", Quantity: PathWidth, Op: AtLeast, Min: length(900 * mm), Severity: Stop, Clause: "stepped approach", Text: "clear"},
			{ID: "UKM1-FLIGHT", Quantity: FlightRise, Op: AtMost, Max: length(1800 * mm), Severity: Stop, Clause: "stepped approach"},
			{ID: "UKM1-LAND", Quantity: LandingDepth, Op: AtLeast, Min: length(900 * mm), Severity: Stop, Clause: "stepped approach"},
			{ID: "UKM1-HR", Quantity: HandrailAt, Op: From, Min: count(3), Sides: 1, Severity: Warn, Clause: "stepped approach", Text: "one that can be gripped, 850 to 1000 mm high, going on 300 mm"},
		}),
	})
}

func admOther() RuleSet {
	return remembered(RuleSet{
		ID: "adm-other", Name: "Approved Document M, stepped access to other buildings (England)", Kind: Code, Place: "England",
		Applies: "External stepped access to buildings other than dwellings; not a garden path. All its figures are from memory.",
		Rules: rules("2015", "Approved Document M, volume 2, Buildings other than dwellings", []Rule{
			{ID: "UKM2-SCOPE", Quantity: Scope, Op: BindsAll, Severity: Note, Clause: "1.33", Text: "it is for stepped access to a building"},
			{ID: "UKM2-RISE", Quantity: RiserHeight, Op: Within, Min: length(150 * mm), Max: length(170 * mm), Severity: Stop, Clause: "1.33"},
			{ID: "UKM2-GOING", Quantity: TreadDepth, Op: Within, Min: length(280 * mm), Max: length(425 * mm), Severity: Stop, Clause: "1.33"},
			{ID: "UKM2-SINGLE", Quantity: FlightRisers, Op: AtLeast, Min: count(2), Severity: Stop, Clause: "1.33", Text: "no single steps"},
			{ID: "UKM2-12", Quantity: FlightRisers, Op: AtMost, Max: count(12), When: &When{TreadUnder: 350 * mm}, Severity: Stop, Clause: "1.33", Text: "goings under 350 mm"},
			{ID: "UKM2-18", Quantity: FlightRisers, Op: AtMost, Max: count(18), When: &When{TreadFrom: 350 * mm}, Severity: Stop, Clause: "1.33", Text: "goings of 350 mm or more"},
			{ID: "UKM2-WIDTH", Quantity: PathWidth, Op: AtLeast, Min: length(1200 * mm), Severity: Stop, Clause: "1.33"},
			{ID: "UKM2-LAND", Quantity: LandingDepth, Op: AtLeast, Min: length(1200 * mm), Severity: Stop, Clause: "1.33"},
		}),
	})
}
