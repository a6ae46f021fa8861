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
		trailTimber(), countryside(), trailUS(), garden(),
		irc2021(), irc2024(), ibc2015(), ibcR3(), ada504(), waCamp(), wiUDC(),
		adkPrivate(), adkUtility(), adkGeneral(), admDwelling(), admOther(),
		nccPrivate(), nccPublic(), caPrivate(), caPublic(),
		nzAccessible(), nzMain(), nzSecondary(), nzMinor(), nzOutdoor(),
		own(),
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

// remembered marks every figure of a set as one from memory.
func remembered(s RuleSet) RuleSet {
	for i := range s.Rules {
		s.Rules[i].Remembered = true
	}
	return s
}

func trailTimber() RuleSet {
	return RuleSet{
		ID: "trail-timber", Name: "Timber board and aggregate path steps", Kind: Specification, Place: "Scotland",
		Applies: "A specification for grant-aided forest paths in Scotland; binds nobody else. It is for steps with long gravel treads, on paths that could not be ramped at 1:12. With its full riser of 150 mm and level treads it matches ground from 15 to 30 %. The steps are 150 mm wider than the path on each side.",
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
		ID: "countryside", Name: "Countryside path steps", Kind: Advice, Place: "Scotland",
		Applies: "Advice for paths in the Scottish countryside; binds nobody. 1200 mm of width is for ordinary use, 1700 mm for heavy use, 600 mm will do where remote. Steps are cut into the slope and not built on it.",
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

func trailUS() RuleSet {
	return RuleSet{
		ID: "trail-us", Name: "Trail steps of US agencies", Kind: Advice, Place: "US",
		Applies: "How the Forest Service and the trail clubs build steps of logs and timber on trails; binds nobody else. A tread long enough for a whole foot, a flat place above and below each step, begun at the bottom. New outdoor recreation access routes may not have stairs.",
		Rules: rules("2007", "USDA Forest Service, Trail Construction and Maintenance Notebook", []Rule{
			{ID: "FS-RISE", Quantity: RiserHeight, Op: Within, Min: length(6 * in), Max: length(8 * in), Severity: Stop, Clause: "steps", Source: "USDA Forest Service, Trail Construction and Maintenance Notebook, as quoted at second hand"},
			{ID: "ATC-RISE", Quantity: RiserHeight, Op: AtMost, Max: length(8 * in), Severity: Warn, Clause: "steps", Edition: "as read online", Source: "Appalachian Trail Conservancy, Rock and log step construction",
				Text: "no more than 6 to 8 in"},
			{ID: "CRIB-TREAD", Quantity: TreadDepth, Op: Within, Min: length(14 * in), Max: length(40 * in), Severity: Note, Clause: "crib steps", Edition: "general handbook practice", Source: "common practice", Remembered: true,
				Text: "steps boxed in 6 x 6 in timber and filled with gravel"},
			{ID: "FS-OUTSLOPE", Quantity: Outslope, Op: Within, Min: ratio(0.02), Max: ratio(0.05), Severity: Warn, Clause: "Figure 80",
				Text: "sideways, more than any building code allows"},
			{ID: "ABA-SLOPE", Quantity: PathSlope, Op: AtLeast, Min: ratio(1.0 / 20), Severity: Note, Clause: "1017.7.1", Edition: "summary of May 2014", Source: "Access Board, Outdoor Developed Areas",
				Text: "a trail may run at up to 1:20 for any length without steps"},
		}),
	}
}

func garden() RuleSet {
	return RuleSet{
		ID: "garden", Name: "Garden steps", Kind: Advice,
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
			{ID: "PITCH-27", Quantity: FlightPitch, Op: AtMost, Max: degrees(27), Severity: Note, Clause: "stairs", Edition: "as excerpted online",
				Source: "building handbook, believed Merritt, Building Design and Construction Handbook", Text: "about 1:2, the limit of comfort; outdoor stairs are usually of 20 to 30°"},
			{ID: "WALK-5", Quantity: PathSlope, Op: AtLeast, Min: ratio(0.05), Severity: Note, Clause: "walks", Edition: "as excerpted online",
				Source: "landscape design textbook, believed Booth and Hiss, Residential Landscape Architecture", Text: "up to 5 % a walk will do without steps"},
		}),
	}
}

func own() RuleSet {
	return RuleSet{
		ID: "own", Name: "Limits of your own", Kind: OwnLimits,
		Applies: "Nothing but sense: figures that keep steps walkable. Set your own limits in their place.",
		Rules: rules("", "common practice", []Rule{
			{ID: "OWN-RISE", Quantity: RiserHeight, Op: Within, Min: length(75 * mm), Max: length(250 * mm), Severity: Stop, Clause: "riser"},
			{ID: "OWN-TREAD", Quantity: TreadDepth, Op: Within, Min: length(220 * mm), Max: length(1500 * mm), Severity: Stop, Clause: "tread"},
			{ID: "OWN-LAND", Quantity: LandingDepth, Op: AtLeast, Min: length(600 * mm), Severity: Stop, Clause: "landing"},
			{ID: "OWN-GUARD", Quantity: GuardAt, Op: Over, Min: length(600 * mm), Severity: Warn, Clause: "drop"},
		}),
	}
}
