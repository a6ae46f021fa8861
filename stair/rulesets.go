package stair

import "github.com/martinlindhe/unit"

// RuleSets is every rule set, each figure with the place it is from. The slice
// is the caller's own.
//
// Figures were taken from the documents named at each; those marked Remembered
// are from memory and must be looked up before they are relied on. Codes change
// and are amended locally: the edition in force where the path is built decides.
func RuleSets() []RuleSet {
	return []RuleSet{
		trailTimber(), countryside(), garden(), irc2021(), ibc2015(), ada504(),
		adkPrivate(), nccPrivate(), caPrivate(), own(),
	}
}

// RuleSetByID is the rule set of an ID such as "irc-2021".
func RuleSetByID(id string) (RuleSet, bool) {
	for _, s := range RuleSets() {
		if s.ID == id {
			return s, true
		}
	}
	return RuleSet{}, false
}

const (
	in = unit.Inch
	mm = unit.Millimeter
)

// rules fills in what all rules of one document share.
func rules(edition, source string, rs []Rule) []Rule {
	for i := range rs {
		if rs[i].Edition == "" {
			rs[i].Edition = edition
		}
		if rs[i].Source == "" {
			rs[i].Source = source
		}
	}
	return rs
}

func trailTimber() RuleSet {
	return RuleSet{
		ID: "trail-timber", Name: "Timber board and aggregate path steps",
		Applies: "A specification for grant-aided forest paths in Scotland; binds nobody else. It is for steps with long gravel treads, on paths that could not be ramped at 1:12. With its full riser of 150 mm and level treads it matches ground from 15 to 30 %.",
		Rules: rules("30 March 2015", "Scottish Government rural payments, Forestry Grant Scheme, capital item “Timber board and aggregate steps”", []Rule{
			{ID: "SCOT-RISE", Quantity: RiserHeight, Op: AtMost, Max: length(150 * mm), Severity: Stop, Clause: "specification, riser"},
			{ID: "SCOT-TREAD", Quantity: TreadDepth, Op: Within, Min: length(500 * mm), Max: length(1000 * mm), Severity: Stop, Clause: "specification, tread"},
			{ID: "SCOT-SLOPE", Quantity: PathSlope, Op: AtLeast, Min: ratio(1.0 / 12), Severity: Warn, Clause: "specification, where steps are paid for",
				Text: "steps are for where a ramped path would be steeper than 1:12"},
			{ID: "SCOT-LEVEL", Quantity: TreadWash, Op: AtMost, Max: ratio(0), Severity: Note, Clause: "specification, treads",
				Text: "it asks for level treads; handbooks ask for a forward fall so that they drain"},
		}),
	}
}

func countryside() RuleSet {
	return RuleSet{
		ID: "countryside", Name: "Countryside path steps",
		Applies: "Advice for paths in the Scottish countryside; binds nobody. 1200 mm of width is for ordinary use, 1700 mm for heavy use, 600 mm will do where remote.",
		Rules: rules("as read from the online guide", "Scottish Natural Heritage, Countryside Access Design Guide, Steps: key design principles", []Rule{
			{ID: "SNH-RISE", Quantity: RiserHeight, Op: AtMost, Max: length(250 * mm), Severity: Stop, Clause: "riser"},
			{ID: "SNH-RISE-EASY", Quantity: RiserHeight, Op: AtMost, Max: length(170 * mm), Severity: Note, Clause: "riser, where mobility matters"},
			{ID: "SNH-TREAD", Quantity: TreadDepth, Op: AtLeast, Min: length(300 * mm), Severity: Stop, Clause: "tread"},
			{ID: "SNH-FLIGHT", Quantity: FlightRise, Op: AtMost, Max: length(2000 * mm), Severity: Stop, Clause: "rise of a flight"},
			{ID: "SNH-STEPS", Quantity: FlightRisers, Op: AtMost, Max: count(14), Severity: Stop, Clause: "steps between landings"},
			{ID: "SNH-WIDTH", Quantity: PathWidth, Op: AtLeast, Min: length(1200 * mm), Severity: Warn, Clause: "width"},
		}),
	}
}

func garden() RuleSet {
	return RuleSet{
		ID: "garden", Name: "Garden steps",
		Applies: "Proportions landscape designers use for steps out of doors; advice only. A free-standing path on a slope is mostly outside the building codes.",
		Rules: rules("as read online", "dg2 Design, Exterior stairs, design guidelines (2R + T = 24 to 26 in)", []Rule{
			{ID: "GARDEN-RISE", Quantity: RiserHeight, Op: Within, Min: length(4 * in), Max: length(7 * in), Severity: Stop, Clause: "riser", Text: "6 in preferred"},
			{ID: "GARDEN-TREAD", Quantity: TreadDepth, Op: Within, Min: length(11 * in), Max: length(18 * in), Severity: Stop, Clause: "tread"},
			{ID: "GARDEN-SUM", Quantity: StepSum, Op: Within, Min: length(24 * in), Max: length(26 * in), Severity: Stop, Clause: "2R + T"},
			{ID: "GARDEN-WIDTH", Quantity: PathWidth, Op: AtLeast, Min: length(4 * 12 * in), Severity: Warn, Clause: "width, private"},
			{ID: "BEALL-FLIGHT", Quantity: FlightRisers, Op: AtMost, Max: count(6), Severity: Note, Clause: "ch. 8, p. 284", Edition: "2004",
				Source: "Beall, Masonry and Concrete (McGraw-Hill)", Text: "split longer flights by a landing 3 ft long"},
			{ID: "BEALL-LANDING", Quantity: LandingDepth, Op: AtLeast, Min: length(3 * 12 * in), Severity: Warn, Clause: "ch. 8, p. 284", Edition: "2004",
				Source: "Beall, Masonry and Concrete (McGraw-Hill)"},
			{ID: "GROUP-3", Quantity: FlightRisers, Op: AtLeast, Min: count(3), Severity: Warn, Clause: "“Steps”", Edition: "2011",
				Source: "Construction for Landscape Architecture", Text: "fewer are easily overlooked"},
			{ID: "WASH-1-2", Quantity: TreadWash, Op: Within, Min: ratio(0.01), Max: ratio(0.02), Severity: Note, Clause: "“Garden stairs”, part 2",
				Source: "Polish landscape text, read in translation", Text: "so that treads drain"},
		}),
	}
}

func irc2021() RuleSet {
	const seen = "2018; 2021 the same, from memory"
	return RuleSet{
		ID: "irc-2021", Name: "IRC R311.7, one- and two-family dwellings (US)",
		Applies: "Stairs that are required or provided within or attached to a building, porch or deck of a one- or two-family dwelling. By its first exception R311.7 does not bind stairs not within or attached to one: a free-standing garden path is outside, a flight up to a deck is inside (exception from memory). Local amendments are common.",
		Rules: rules(seen, "International Residential Code", []Rule{
			{ID: "IRC-RISE-MAX", Quantity: RiserHeight, Op: AtMost, Max: length(7.75 * in), Severity: Stop, Clause: "R311.7.5.1", Source: "International Residential Code, as given by Jefferson County, “Stairways”"},
			{ID: "IRC-TREAD-MIN", Quantity: TreadDepth, Op: AtLeast, Min: length(10 * in), Severity: Stop, Clause: "R311.7.5.2", Source: "International Residential Code, as given by Jefferson County, “Stairways”"},
			{ID: "IRC-NOSE", Quantity: NosingAt, Op: Under, Min: length(11 * in), Severity: Note, Clause: "R311.7.5.3 exception", Remembered: true,
				Text: "3/4 to 1 1/4 in of projection; none is needed on treads of 11 in"},
			{ID: "IRC-FLIGHT", Quantity: FlightRise, Op: AtMost, Max: length(151 * in), Severity: Stop, Clause: "R311.7.3", Edition: "2018, 2021, 2024", Remembered: true},
			{ID: "IRC-WIDTH", Quantity: PathWidth, Op: AtLeast, Min: length(36 * in), Severity: Stop, Clause: "R311.7.1", Source: "International Residential Code, as given by Jefferson County, “Stairways”"},
			{ID: "IRC-LAND", Quantity: LandingDepth, Op: AtLeast, Min: length(36 * in), Severity: Stop, Clause: "R311.7.6", Source: "International Residential Code, as given in the City of Everett's tip sheet"},
			{ID: "IRC-LAND-END", Quantity: EndLanding, Op: AtLeast, Min: length(36 * in), Severity: Stop, Clause: "R311.7.6", Remembered: true,
				Text: "a landing at the top and the bottom of each stairway"},
			{ID: "IRC-SLOPE", Quantity: TreadWash, Op: AtMost, Max: ratio(1.0 / 48), Severity: Stop, Clause: "R311.7.7", Remembered: true},
			{ID: "IRC-HR", Quantity: HandrailAt, Op: From, Min: count(4), Sides: 1, Severity: Warn, Clause: "R311.7.8", Edition: "2018 to 2024",
				Source: "International Residential Code, as given by Litchfield Park, “Stairway”", Text: "34 to 38 in above the line of nosings"},
			{ID: "IRC-GUARD", Quantity: GuardAt, Op: Over, Min: length(30 * in), Severity: Warn, Clause: "R312.1.1",
				Source: "International Residential Code, as given by Jefferson County, “Guards”", Text: "measured anywhere within 36 in of the open edge; 36 in high"},
		}),
	}
}

func ibc2015() RuleSet {
	return RuleSet{
		ID: "ibc-2015", Name: "IBC 1011, other buildings (US)",
		Applies: "Stairways that serve occupied parts of buildings other than one- and two-family dwellings; not a free-standing garden path.",
		Rules: rules("2015", "International Building Code", []Rule{
			{ID: "IBC-RISE", Quantity: RiserHeight, Op: Within, Min: length(4 * in), Max: length(7 * in), Severity: Stop, Clause: "1011.5.2", Source: "International Building Code, quoted in The Building Code Forum, “How is a stair tread measured”"},
			{ID: "IBC-TREAD", Quantity: TreadDepth, Op: AtLeast, Min: length(11 * in), Severity: Stop, Clause: "1011.5.2", Source: "International Building Code, quoted in The Building Code Forum, “How is a stair tread measured”"},
			{ID: "IBC-LAND", Quantity: LandingAsWide, Op: AtLeast, Max: length(48 * in), Severity: Stop, Clause: "1011.6", Remembered: true,
				Text: "as deep as the stair is wide, 48 in at most"},
			{ID: "IBC-SLOPE", Quantity: TreadWash, Op: AtMost, Max: ratio(1.0 / 48), Severity: Stop, Clause: "1011.7.1", Remembered: true},
			{ID: "IBC-FLIGHT", Quantity: FlightRise, Op: AtMost, Max: length(144 * in), Severity: Stop, Clause: "1011.8", Source: "International Building Code, as quoted at second hand"},
			{ID: "IBC-WIDTH", Quantity: PathWidth, Op: AtLeast, Min: length(44 * in), Severity: Stop, Clause: "1011.2", Remembered: true, Text: "36 in for fewer than 50 people"},
			{ID: "IBC-HR", Quantity: HandrailAt, Op: From, Min: count(1), Sides: 2, Severity: Warn, Clause: "1011.11", Remembered: true, Text: "34 to 38 in; one side within dwelling units"},
		}),
	}
}

func ada504() RuleSet {
	return RuleSet{
		ID: "ada-504", Name: "ADA / ABA 504, stairs on a means of egress (US)",
		Applies: "Interior and exterior stairs that are part of a means of egress (210.1). New outdoor recreation access routes may not have stairs; elsewhere on trails it is good practice and does not bind.",
		Rules: rules("2010 ADA Standards", "ADA and ABA Standards, 504 Stairways", []Rule{
			{ID: "ADA-RISE", Quantity: RiserHeight, Op: Within, Min: length(4 * in), Max: length(7 * in), Severity: Stop, Clause: "504.2"},
			{ID: "ADA-TREAD", Quantity: TreadDepth, Op: AtLeast, Min: length(11 * in), Severity: Stop, Clause: "504.2"},
			{ID: "ADA-SLOPE", Quantity: TreadWash, Op: AtMost, Max: ratio(1.0 / 48), Severity: Stop, Clause: "504.4"},
			{ID: "ADA-HR", Quantity: HandrailAt, Op: From, Min: count(1), Sides: 2, Severity: Warn, Clause: "505", Source: "Guide to the ADA Standards, Stairways",
				Text: "34 to 38 in, going on 12 in at the top and a tread's depth at the bottom"},
		}),
	}
}

func adkPrivate() RuleSet {
	return RuleSet{
		ID: "adk-private", Name: "Approved Document K, private stair (England)",
		Applies: "Stairs inside a dwelling, and external steps only where they are part of the building (paragraph 1.1). A stepped approach to the door is for Approved Document M; a free-standing garden path is for neither.",
		Rules: rules("2013", "Approved Document K, Protection from falling, collision and impact", []Rule{
			{ID: "UKK-RISE", Quantity: RiserHeight, Op: Within, Min: length(150 * mm), Max: length(220 * mm), Severity: Stop, Clause: "Table 1.1"},
			{ID: "UKK-GOING", Quantity: TreadDepth, Op: Within, Min: length(220 * mm), Max: length(300 * mm), Severity: Stop, Clause: "Table 1.1"},
			{ID: "UKK-PITCH", Quantity: FlightPitch, Op: AtMost, Max: degrees(42), Severity: Warn, Clause: "Table 1.1, note 1"},
			{ID: "UKK-SUM", Quantity: StepSum, Op: Within, Min: length(550 * mm), Max: length(700 * mm), Severity: Warn, Clause: "Table 1.1, note", Text: "the “normal relationship”, guidance"},
			{ID: "UKK-LAND", Quantity: LandingAsWide, Op: AtLeast, Severity: Stop, Clause: "landings", Edition: "an older edition, at second hand", Text: "as deep as the flight is wide"},
			{ID: "UKK-GUARD", Quantity: GuardAt, Op: Over, Min: length(600 * mm), Severity: Warn, Clause: "1.40, 1.41", Text: "dwellings"},
		}),
	}
}

func nccPrivate() RuleSet {
	const source = "National Construction Code, volume 1 Table D3D14 (private) and Housing Provisions 11.2.2, at second hand"
	return RuleSet{
		ID: "ncc-private", Name: "NCC, private stair (Australia)",
		Applies: "Stairs of dwellings, inside and out, where they are part of the building; not a free-standing garden path.",
		Rules: rules("2022", source, []Rule{
			{ID: "AU-RISE", Quantity: RiserHeight, Op: Within, Min: length(115 * mm), Max: length(190 * mm), Severity: Stop, Clause: "11.2.2"},
			{ID: "AU-GOING", Quantity: TreadDepth, Op: Within, Min: length(240 * mm), Max: length(355 * mm), Severity: Stop, Clause: "11.2.2"},
			{ID: "AU-SUM", Quantity: StepSum, Op: Within, Min: length(550 * mm), Max: length(700 * mm), Severity: Stop, Clause: "11.2.2"},
			{ID: "AU-N", Quantity: FlightRisers, Op: Within, Min: count(2), Max: count(18), Severity: Stop, Clause: "11.2.2", Remembered: true},
			{ID: "AU-LAND", Quantity: LandingDepth, Op: AtLeast, Min: length(750 * mm), Severity: Stop, Clause: "11.2.5", Remembered: true},
			{ID: "AU-LAND-SLOPE", Quantity: TreadWash, Op: AtMost, Max: ratio(1.0 / 50), Severity: Stop, Clause: "11.2.5", Remembered: true, Text: "a limit for landings"},
			{ID: "AU-BAR", Quantity: GuardAt, Op: From, Min: length(1000 * mm), Severity: Warn, Clause: "11.3", Remembered: true},
		}),
	}
}

func caPrivate() RuleSet {
	const source = "National Building Code of Canada and Ontario Building Code, Part 9"
	return RuleSet{
		ID: "ca-private", Name: "NBC / OBC 9.8, private stair (Canada)",
		Applies: "Stairs of houses and small buildings; not a free-standing garden path.",
		Rules: rules("NBC 2015, 2020; O.Reg. 332/12", source, []Rule{
			{ID: "CA-RISE", Quantity: RiserHeight, Op: Within, Min: length(125 * mm), Max: length(200 * mm), Severity: Stop, Clause: "Table 9.8.4.1", Remembered: true},
			{ID: "CA-RUN", Quantity: TreadDepth, Op: Within, Min: length(255 * mm), Max: length(355 * mm), Severity: Stop, Clause: "Table 9.8.4.1", Remembered: true},
			{ID: "CA-TSLOPE", Quantity: TreadWash, Op: AtMost, Max: ratio(1.0 / 50), Severity: Stop, Clause: "9.8.4.4.(5)", Edition: "O.Reg. 332/12"},
			{ID: "CA-FLIGHT", Quantity: FlightRise, Op: AtMost, Max: length(3700 * mm), Severity: Stop, Clause: "9.8.3.3", Edition: "O.Reg. 332/12"},
			{ID: "CA-HR", Quantity: HandrailAt, Op: From, Min: count(4), Sides: 1, Severity: Warn, Clause: "9.8.7", Remembered: true, Text: "exterior stair of one dwelling: none for 3 risers or fewer"},
			{ID: "CA-GUARD", Quantity: GuardAt, Op: Over, Min: length(600 * mm), Severity: Warn, Clause: "9.8.8", Remembered: true, Text: "900 mm high up to a drop of 1.8 m, then 1070 mm"},
		}),
	}
}

func own() RuleSet {
	return RuleSet{
		ID: "own", Name: "Limits of your own",
		Applies: "Nothing but sense: figures that keep steps walkable. Set your own limits in their place.",
		Rules: rules("", "common practice", []Rule{
			{ID: "OWN-RISE", Quantity: RiserHeight, Op: Within, Min: length(75 * mm), Max: length(250 * mm), Severity: Stop, Clause: "riser"},
			{ID: "OWN-TREAD", Quantity: TreadDepth, Op: Within, Min: length(220 * mm), Max: length(1500 * mm), Severity: Stop, Clause: "tread"},
			{ID: "OWN-LAND", Quantity: LandingDepth, Op: AtLeast, Min: length(600 * mm), Severity: Stop, Clause: "landing"},
			{ID: "OWN-GUARD", Quantity: GuardAt, Op: Over, Min: length(600 * mm), Severity: Warn, Clause: "drop"},
		}),
	}
}
