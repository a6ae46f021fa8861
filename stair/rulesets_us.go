package stair

import "strings"

// irc2021 is the stairs of the International Residential Code with the section
// numbers of 2021.
func irc2021() RuleSet {
	const (
		code    = "International Residential Code"
		jeffco  = code + ", as given by Jefferson County, “Stairways”"
		guards  = code + ", as given by Jefferson County, “Guards”"
		everett = code + ", as given in the City of Everett's tip sheet"
		park    = code + ", as given by Litchfield Park, “Stairway”"
	)
	walk := &Walkline{Offset: 12 * in}
	return RuleSet{
		ID: "irc-2021", Name: "IRC R311.7, one- and two-family dwellings, 2021 (US)", Kind: Code, Place: "US",
		Applies: "Stairs that are required or provided within or attached to a building, porch or deck of a one- or two-family dwelling. By its first exception R311.7 does not bind stairs not within or attached to one: a free-standing garden path is outside, a flight up to a deck is inside (exception from memory). Local amendments are common.",
		Rules: rules("2018; 2021 the same, from memory", code, []Rule{
			{ID: "IRC-SCOPE", Quantity: Scope, Op: Binds, Severity: Note, Clause: "R311.7, exception 1", Edition: "2021", Remembered: true,
				Text: "R311.7 is for stairs required or provided; stairs not within or attached to a building, porch or deck are excepted"},
			{ID: "IRC-RISE-MAX", Quantity: RiserHeight, Op: AtMost, Max: length(7.75 * in), Severity: Stop, Clause: "R311.7.5.1", Source: jeffco},
			{ID: "IRC-RISE-UNI", Quantity: RiserSpread, Op: AtMost, Max: length(0.375 * in), Severity: Stop, Clause: "R311.7.5.1", Source: everett},
			{ID: "IRC-OPEN", Quantity: RiserGap, Op: LessThan, Max: length(4 * in), When: &When{DropOver: 30 * in}, Severity: Stop, Clause: "R311.7.5.1", Source: everett,
				Text: "a 4 in sphere must not pass openings more than 30 in above the ground, the place from memory; the 2018 tip sheet excepts stairs of a total rise of 30 in"},
			{ID: "IRC-TREAD-MIN", Quantity: TreadDepth, Op: AtLeast, Min: length(10 * in), Severity: Stop, Clause: "R311.7.5.2", Source: jeffco},
			{ID: "IRC-TREAD-UNI", Quantity: TreadSpread, Op: AtMost, Max: length(0.375 * in), Severity: Stop, Clause: "R311.7.5.2", Source: park},
			{ID: "IRC-NOSE", Quantity: NosingAt, Op: Under, Min: length(11 * in), Severity: Note, Clause: "R311.7.5.3 exception", Remembered: true,
				Text: "3/4 to 1 1/4 in of projection; none is needed on treads of 11 in"},
			{ID: "IRC-NOSE-DEPTH", Quantity: NosingDepth, Op: Within, Min: length(0.75 * in), Max: length(1.25 * in), When: &When{TreadUnder: 11 * in, Faces: Solid}, Severity: Stop, Clause: "R311.7.5.3", Source: everett,
				Text: "rounded to 9/16 in or bevelled to 1/2 in at most, from memory"},
			{ID: "IRC-FLIGHT", Quantity: FlightRise, Op: AtMost, Max: length(151 * in), Severity: Stop, Clause: "R311.7.3", Edition: "2018, 2021, 2024", Remembered: true},
			{ID: "IRC-WIDTH", Quantity: PathWidth, Op: AtLeast, Min: length(36 * in), Severity: Stop, Clause: "R311.7.1", Source: jeffco},
			{ID: "IRC-WIDTH-HR1", Quantity: RailWidth, Op: AtLeast, Min: length(31.5 * in), Sides: 1, Severity: Stop, Clause: "R311.7.1", Source: jeffco},
			{ID: "IRC-WIDTH-HR2", Quantity: RailWidth, Op: AtLeast, Min: length(27 * in), Sides: 2, Severity: Stop, Clause: "R311.7.1", Source: jeffco},
			{ID: "IRC-HEAD", Quantity: PathHeadroom, Op: AtLeast, Min: length(80 * in), Severity: Stop, Clause: "R311.7.2", Source: jeffco},
			{ID: "IRC-LAND", Quantity: LandingDepth, Op: AtLeast, Min: length(36 * in), Severity: Stop, Clause: "R311.7.6", Source: everett},
			{ID: "IRC-LAND-WIDE", Quantity: LandingBreadth, Op: AtLeast, Severity: Stop, Clause: "R311.7.6", Remembered: true,
				Text: "landings are as wide as the flight"},
			{ID: "IRC-LAND-END", Quantity: EndLanding, Op: AtLeast, Min: length(36 * in), Severity: Stop, Clause: "R311.7.6", Remembered: true,
				Text: "a landing at the top and the bottom of each stairway"},
			{ID: "IRC-SLOPE", Quantity: TreadWash, Op: AtMost, Max: ratio(1.0 / 48), Severity: Stop, Clause: "R311.7.7", Remembered: true},
			{ID: "IRC-SLOPE-ACROSS", Quantity: Outslope, Op: AtMost, Max: ratio(1.0 / 48), Severity: Stop, Clause: "R311.7.7", Remembered: true,
				Text: "in any direction"},
			{ID: "IRC-WIND-10", Quantity: WedgeWalkline, Op: AtLeast, Min: length(10 * in), Walkline: walk, Severity: Stop, Clause: "R311.7.5.2.1", Source: park,
				Text: "12 in from the narrow side, R311.7.4"},
			{ID: "IRC-WIND-UNI", Quantity: WedgeSpread, Op: AtMost, Max: length(0.375 * in), Walkline: walk, Severity: Stop, Clause: "R311.7.5.2.1", Remembered: true,
				Text: "wedges that are alike need not be as deep as the straight treads of their flight"},
			{ID: "IRC-WIND-6", Quantity: WedgeNarrow, Op: AtLeast, Min: length(6 * in), Severity: Stop, Clause: "R311.7.5.2.1", Source: park,
				Text: "anywhere in the clear width"},
			{ID: "IRC-HR", Quantity: HandrailAt, Op: From, Min: count(4), Sides: 1, Severity: Warn, Clause: "R311.7.8", Edition: "2018 to 2024",
				Source: park, Text: "34 to 38 in above the line of nosings"},
			{ID: "IRC-GUARD", Quantity: GuardAt, Op: Over, Min: length(30 * in), Severity: Warn, Clause: "R312.1.1",
				Source: guards, Text: "measured anywhere within 36 in of the open edge; 36 in high, 34 in beside a stair; a 4 in sphere must not pass, 4 3/8 in beside a stair, 6 in through the triangle of riser, tread and rail"},
		}),
	}
}

// irc2024 is the same figures under the numbers of the 2024 edition, where
// the means of egress went from R311 to R318 and guards from R312 to R321. All
// of that is from memory.
func irc2024() RuleSet {
	s := irc2021()
	s.ID, s.Name = "irc-2024", "IRC R318.7, one- and two-family dwellings, 2024 (US)"
	renumber := strings.NewReplacer("R311.7", "R318.7", "R312.1", "R321.1")
	s.Applies = renumber.Replace(s.Applies) + " Figures are those of the editions before it and section numbers are from memory: look both up."
	for i := range s.Rules {
		r := &s.Rules[i]
		r.ID = "IRC24" + strings.TrimPrefix(r.ID, "IRC")
		r.Clause, r.Text = renumber.Replace(r.Clause), renumber.Replace(r.Text)
		r.Edition = "2024; section number and figure from memory, the figure as in 2018 and 2021"
		r.Source = "International Residential Code"
		r.Remembered = true
	}
	return s
}

func ibc2015() RuleSet {
	const forum = "International Building Code, quoted in The Building Code Forum, “How is a stair tread measured”"
	walk := &Walkline{Offset: 12 * in}
	return RuleSet{
		ID: "ibc-2015", Name: "IBC 1011, other buildings (US)", Kind: Code, Place: "US",
		Applies: "Stairways that serve occupied parts of buildings other than one- and two-family dwellings; not a free-standing garden path.",
		Rules: rules("2015", "International Building Code", append([]Rule{
			{ID: "IBC-SCOPE", Quantity: Scope, Op: Binds, Severity: Note, Clause: "1011.1", Remembered: true,
				Text: "1011 is for stairways that serve occupied parts of a building"},
			{ID: "IBC-RISE", Quantity: RiserHeight, Op: Within, Min: length(4 * in), Max: length(7 * in), Severity: Stop, Clause: "1011.5.2", Source: forum},
			{ID: "IBC-TREAD", Quantity: TreadDepth, Op: AtLeast, Min: length(11 * in), Severity: Stop, Clause: "1011.5.2", Source: forum},
			{ID: "IBC-NOSE", Quantity: NosingDepth, Op: AtMost, Max: length(1.25 * in), Severity: Stop, Clause: "1011.5.5", Remembered: true,
				Text: "its leading edge rounded to 9/16 in at most"},
			{ID: "IBC-WIND", Quantity: WedgeWalkline, Op: AtLeast, Min: length(11 * in), Walkline: walk, Severity: Stop, Clause: "1011.5.2", Source: forum,
				Text: "on a walkline 12 in from the narrow side, that distance from memory"},
			{ID: "IBC-WIND-MIN", Quantity: WedgeNarrow, Op: AtLeast, Min: length(10 * in), Severity: Stop, Clause: "1011.5.2", Source: forum},
			{ID: "IBC-WIDTH", Quantity: PathWidth, Op: AtLeast, Min: length(44 * in), Severity: Stop, Clause: "1011.2", Remembered: true, Text: "36 in for fewer than 50 people"},
			{ID: "IBC-HR", Quantity: HandrailAt, Op: From, Min: count(1), Sides: 2, Severity: Warn, Clause: "1011.11", Remembered: true,
				Text: "34 to 38 in, going on 12 in at the top and a tread's depth at the bottom; one side within dwelling units"},
		}, ibcShared("IBC")...)),
	}
}

// ibcR3 is the exception for dwellings under the IBC.
func ibcR3() RuleSet {
	const forum = "International Building Code, quoted in The Building Code Forum, “How is a stair tread measured”"
	walk := &Walkline{Offset: 12 * in}
	return RuleSet{
		ID: "ibc-r3", Name: "IBC 1011, dwellings by exception 3 (US)", Kind: Code, Place: "US",
		Applies: "Stairways of group R-3, within dwelling units of R-2, and of the group U buildings that go with them; not a free-standing garden path.",
		Rules: rules("2015", "International Building Code", append([]Rule{
			{ID: "IBCR3-SCOPE", Quantity: Scope, Op: Binds, Severity: Note, Clause: "1011.1", Remembered: true,
				Text: "1011 is for stairways that serve occupied parts of a building"},
			{ID: "IBCR3-RISE", Quantity: RiserHeight, Op: AtMost, Max: length(7.75 * in), Severity: Stop, Clause: "1011.5.2 ex. 3", Source: forum},
			{ID: "IBCR3-TREAD", Quantity: TreadDepth, Op: AtLeast, Min: length(10 * in), Severity: Stop, Clause: "1011.5.2 ex. 3", Source: forum},
			{ID: "IBCR3-NOSE", Quantity: NosingAt, Op: Under, Min: length(11 * in), Severity: Note, Clause: "1011.5.2 ex. 3", Source: forum,
				Text: "3/4 to 1 1/4 in of projection"},
			{ID: "IBCR3-NOSE-DEPTH", Quantity: NosingDepth, Op: Within, Min: length(0.75 * in), Max: length(1.25 * in), When: &When{TreadUnder: 11 * in, Faces: Solid}, Severity: Stop, Clause: "1011.5.2 ex. 3", Source: forum},
			{ID: "IBCR3-WIND", Quantity: WedgeWalkline, Op: AtLeast, Min: length(10 * in), Walkline: walk, Severity: Stop, Clause: "1011.5.2 ex. 3", Source: forum,
				Text: "on a walkline 12 in from the narrow side, that distance from memory"},
			{ID: "IBCR3-WIND-MIN", Quantity: WedgeNarrow, Op: AtLeast, Min: length(6 * in), Severity: Stop, Clause: "1011.5.2 ex. 3", Source: forum},
			{ID: "IBCR3-WIDTH", Quantity: PathWidth, Op: AtLeast, Min: length(36 * in), Severity: Stop, Clause: "1011.2", Remembered: true, Text: "for fewer than 50 people"},
			{ID: "IBCR3-HR", Quantity: HandrailAt, Op: From, Min: count(1), Sides: 1, Severity: Warn, Clause: "1011.11", Remembered: true, Text: "34 to 38 in; within dwelling units"},
		}, ibcShared("IBCR3")...)),
	}
}

// ibcShared is what all stairs under the IBC share.
func ibcShared(id string) []Rule {
	return []Rule{
		{ID: id + "-RISE-UNI", Quantity: RiserSpread, Op: AtMost, Max: length(0.375 * in), Severity: Stop, Clause: "1011.5.4", Remembered: true,
			Text: "the end riser on a sloping walk may taper by 1:12 across the stair when it is marked"},
		{ID: id + "-TREAD-UNI", Quantity: TreadSpread, Op: AtMost, Max: length(0.375 * in), Severity: Stop, Clause: "1011.5.4", Remembered: true},
		{ID: id + "-LAND", Quantity: LandingAsWide, Op: AtLeast, Max: length(48 * in), Severity: Stop, Clause: "1011.6", Remembered: true,
			Text: "as deep as the stair is wide, 48 in at most"},
		{ID: id + "-SLOPE", Quantity: TreadWash, Op: AtMost, Max: ratio(1.0 / 48), Severity: Stop, Clause: "1011.7.1", Remembered: true},
		{ID: id + "-SLOPE-ACROSS", Quantity: Outslope, Op: AtMost, Max: ratio(1.0 / 48), Severity: Stop, Clause: "1011.7.1", Remembered: true},
		{ID: id + "-WET", Quantity: Drainage, Op: MoreThan, Min: ratio(0), Severity: Warn, Clause: "1011.7.2", Remembered: true,
			Text: "outdoor treads and the ways to them must not pond"},
		{ID: id + "-FLIGHT", Quantity: FlightRise, Op: AtMost, Max: length(144 * in), Severity: Stop, Clause: "1011.8", Source: "International Building Code, as quoted at second hand"},
		{ID: id + "-GUARD", Quantity: GuardAt, Op: Over, Min: length(30 * in), Severity: Warn, Clause: "1015.2", Remembered: true,
			Text: "42 in high; a 4 in sphere must not pass up to 36 in, 4 3/8 in above, 6 in through the triangle of riser, tread and rail"},
	}
}

func ada504() RuleSet {
	return RuleSet{
		ID: "ada-504", Name: "ADA / ABA 504, stairs on a means of egress (US)", Kind: Code, Place: "US",
		Applies: "Interior and exterior stairs that are part of a means of egress (210.1). New outdoor recreation access routes may not have stairs; elsewhere on trails it is good practice and does not bind.",
		Rules: rules("2010 ADA Standards", "ADA and ABA Standards, 504 Stairways", []Rule{
			{ID: "ADA-SCOPE", Quantity: Scope, Op: BindsAll, Severity: Note, Clause: "210.1", Source: "2010 ADA Standards, as quoted by an accessibility inspector",
				Text: "504 binds stairs that are part of a means of egress"},
			{ID: "ADA-RISE", Quantity: RiserHeight, Op: Within, Min: length(4 * in), Max: length(7 * in), Severity: Stop, Clause: "504.2", Text: "all risers of a flight uniform"},
			{ID: "ADA-TREAD", Quantity: TreadDepth, Op: AtLeast, Min: length(11 * in), Severity: Stop, Clause: "504.2", Text: "all treads of a flight uniform"},
			{ID: "ADA-OPEN", Quantity: OpenRiserCount, Op: AtMost, Max: count(0), Severity: Stop, Clause: "504.3", Text: "open risers are not allowed"},
			{ID: "ADA-SLOPE", Quantity: TreadWash, Op: AtMost, Max: ratio(1.0 / 48), Severity: Stop, Clause: "504.4"},
			{ID: "ADA-SLOPE-ACROSS", Quantity: Outslope, Op: AtMost, Max: ratio(1.0 / 48), Severity: Stop, Clause: "504.4"},
			{ID: "ADA-NOSE", Quantity: NosingDepth, Op: AtMost, Max: length(1.5 * in), Severity: Stop, Clause: "504.5",
				Text: "its edge rounded to 1/2 in at most, the riser leaning 30° at most"},
			{ID: "ADA-WET", Quantity: Drainage, Op: MoreThan, Min: ratio(0), Severity: Warn, Clause: "504.7", Text: "treads and landings must not hold water"},
			{ID: "ADA-HR", Quantity: HandrailAt, Op: From, Min: count(1), Sides: 2, Severity: Warn, Clause: "505", Source: "Guide to the ADA Standards, Stairways",
				Text: "34 to 38 in, going on 12 in at the top and a tread's depth at the bottom"},
		}),
	}
}

func waCamp() RuleSet {
	return RuleSet{
		ID: "wa-camp", Name: "WAC 246-359-520, temporary worker housing (Washington)", Kind: Code, Place: "US, Washington",
		Applies: "Stairs of temporary worker housing in the State of Washington; a stricter yardstick for handrails elsewhere.",
		Rules: rules("as read online", "Washington Administrative Code 246-359-520", []Rule{
			{ID: "WAC-SCOPE", Quantity: Scope, Op: BindsAll, Severity: Note, Clause: "246-359-520", Text: "it is for temporary worker housing"},
			{ID: "WAC-RISE", Quantity: RiserHeight, Op: Within, Min: length(4 * in), Max: length(8 * in), Severity: Stop, Clause: "246-359-520"},
			{ID: "WAC-RUN", Quantity: TreadDepth, Op: AtLeast, Min: length(9 * in), Severity: Stop, Clause: "246-359-520"},
			{ID: "WAC-RISE-UNI", Quantity: RiserSpread, Op: AtMost, Max: length(0.375 * in), Severity: Stop, Clause: "246-359-520"},
			{ID: "WAC-RUN-UNI", Quantity: TreadSpread, Op: AtMost, Max: length(0.375 * in), Severity: Stop, Clause: "246-359-520"},
			{ID: "WAC-HR", Quantity: HandrailAt, Op: From, Min: count(3), Sides: 1, Severity: Warn, Clause: "246-359-520"},
			{ID: "WAC-GUARD", Quantity: GuardAt, Op: Over, Min: length(30 * in), Severity: Warn, Clause: "246-359-520",
				Text: "36 in high; a 4 in sphere must not pass"},
		}),
	}
}

func wiUDC() RuleSet {
	return RuleSet{
		ID: "wi-udc", Name: "SPS 321.04, one- and two-family dwellings (Wisconsin)", Kind: Code, Place: "US, Wisconsin",
		Applies: "Landings and guards of stairs of one- and two-family dwellings in Wisconsin; a stricter yardstick for guards elsewhere. It is not the whole of the section.",
		Rules: rules("as read in a text copy", "Wisconsin Administrative Code SPS 321.04", []Rule{
			{ID: "WI-SCOPE", Quantity: Scope, Op: Binds, Severity: Note, Clause: "SPS 321.04", Text: "it is for one- and two-family dwellings"},
			{ID: "WI-FLIGHT", Quantity: FlightRise, Op: LessThan, Max: length(12 * 12 * in), Severity: Stop, Clause: "SPS 321.04(3)(c)",
				Text: "a stair 12 ft or higher has a landing on the way"},
			{ID: "WI-LAND", Quantity: LandingDepth, Op: AtLeast, Min: length(36 * in), Severity: Stop, Clause: "SPS 321.04(3)(c)"},
			{ID: "WI-GUARD", Quantity: GuardAt, Op: Over, Min: length(24 * in), Severity: Warn, Clause: "SPS 321.04(4)",
				Text: "measured within 3 ft; a 4 3/8 in sphere must not pass"},
		}),
	}
}
