package stair

import (
	"math"
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"
)

// RuleSets is every rule set, each figure with the place it is from. The slice
// is the caller's own.
//
// Figures were taken from the documents named at each; those marked Remembered
// are from memory and must be looked up before they are relied on. Codes change
// and are amended locally: the edition in force where the path is built decides.
func RuleSets() []RuleSet {
	out := make([]RuleSet, 0, len(ruleTexts))
	for i := range ruleTexts {
		out = append(out, ruleSetAt(i))
	}
	return out
}

// RuleSetByID is the rule set of an ID such as "irc-2021".
func RuleSetByID(id string) (RuleSet, bool) {
	for i, text := range &ruleTexts {
		if text == "" || strings.Contains(text, "\nset | "+id+" | ") {
			if s := ruleSetAt(i); s.ID == id {
				return s, true
			}
		}
	}
	return RuleSet{}, false
}

// ruleTexts is the rule sets as tables, in their order; "" is the IRC of 2024,
// which is made from that of 2021. It does not change.
var ruleTexts = [...]string{
	trailTimber, countryside, trailUS, garden,
	irc2021, "", ibc2015, ibcR3, ada504, waCamp, wiUDC,
	adkPrivate, adkUtility, adkGeneral, admDwelling, admOther,
	nccPrivate, nccPublic, caPrivate, caPublic,
	nzAccessible, nzMain, nzSecondary, nzMinor, nzOutdoor,
	own,
}

func ruleSetAt(i int) RuleSet {
	if ruleTexts[i] == "" {
		return irc2024()
	}
	return ruleSet(ruleTexts[i])
}

// ruleSet reads the table of a rule set: compact, and a third of what it takes
// as composite literals. Its lines have fields parted by " | ":
//
//	set | ID | kind | place | name
//	applies | what it binds
//	edition | of all its rules      source | of all its rules
//	memory                          (all its figures are from memory)
//	let | word | what {word} stands for below
//	use | table | what {1} stands for in it | {2} …
//	ID | quantity op figures | severity | clause | more …
//
// Figures are 150 mm, 7.75 in, 1/48, 2 %, 42 deg or a bare count; A to B where
// there are two, none where what is asked for is known from the path. More is
// sides N; edition, source or text and the words; memory; walkline offset, or
// walkline offset below width; tread_from, tread_under, width_from or drop_over
// and a length; faces solid or open. What is none of these is no part of a
// table: a test looks for it.
func ruleSet(text string) RuleSet {
	s, _ := readRules(text)
	return s
}

// ruleReader is the state of reading a table: what holds for the rules to come.
type ruleReader struct {
	set             RuleSet
	edition, source string
	memory          bool
	words           []string // pairs of {word} and what it stands for
	strange         []string // what was not understood
}

func readRules(text string) (RuleSet, []string) {
	var r ruleReader
	r.read(text)
	for i := range r.set.Rules {
		rule := &r.set.Rules[i]
		if rule.Edition == "" {
			rule.Edition = r.edition
		}
		if rule.Source == "" {
			rule.Source = r.source
		}
		rule.Remembered = rule.Remembered || r.memory
	}
	return r.set, r.strange
}

func (r *ruleReader) read(text string) {
	for _, line := range strings.Split(strings.Trim(text, "\n"), "\n") {
		for i := 0; i < len(r.words); i += 2 {
			line = strings.ReplaceAll(line, r.words[i], r.words[i+1])
		}
		f := strings.Split(line, " | ")
		switch key := f[0]; {
		case key == "set" && len(f) == 5:
			r.set.ID, r.set.Kind, r.set.Place, r.set.Name = f[1], SetKind(f[2]), f[3], f[4]
		case key == "applies" && len(f) == 2:
			r.set.Applies = f[1]
		case key == "edition" && len(f) == 2:
			r.edition = f[1]
		case key == "source" && len(f) == 2:
			r.source = f[1]
		case key == "memory":
			r.memory = true
		case key == "let" && len(f) == 3:
			r.words = append(r.words, "{"+f[1]+"}", f[2])
		case key == "use":
			inner := ruleReader{set: r.set}
			for i := 1; i <= 5; i++ {
				arg := ""
				if i+1 < len(f) {
					arg = f[i+1]
				}
				inner.words = append(inner.words, "{"+strconv.Itoa(i)+"}", arg)
			}
			inner.read(sharedRules(f[1]))
			r.set = inner.set
			r.strange = append(r.strange, inner.strange...)
			if inner.source != "" {
				r.edition, r.source = inner.edition, inner.source
			}
		case len(f) >= 4:
			r.rule(f)
		default:
			r.strange = append(r.strange, line)
		}
	}
}

// sharedRules is the tables that others use.
func sharedRules(name string) string {
	switch name {
	case "ibc":
		return ibcShared
	case "adk-stair":
		return adkStair
	case "adk-public":
		return adkPublic
	case "ncc":
		return ncc
	case "ca":
		return ca
	case "nz":
		return nz
	}
	return name
}

func (r *ruleReader) rule(f []string) {
	quantity, rest, _ := strings.Cut(f[1], " ")
	op, figures, _ := strings.Cut(rest, " ")
	rule := Rule{ID: f[0], Quantity: Quantity(quantity), Op: Op(op), Severity: Severity(f[2]), Clause: f[3]}
	least, most, _ := strings.Cut(" "+figures, " to ")
	if rule.Op == AtMost || rule.Op == LessThan {
		least, most = most, least
	}
	rule.Min, rule.Max = r.amount(strings.TrimSpace(least)), r.amount(strings.TrimSpace(most))
	var when When
	for _, more := range f[4:] {
		key, rest, _ := strings.Cut(more, " ")
		switch key {
		case "sides":
			rule.Sides = r.amount(rest).Count
		case "edition":
			rule.Edition = rest
		case "source":
			rule.Source = rest
		case "memory":
			rule.Remembered = true
		case "text":
			rule.Text = rest
		case "walkline":
			offset, below, _ := strings.Cut(rest, " below ")
			rule.Walkline = &Walkline{Offset: r.amount(offset).Length, MidBelow: r.amount(below).Length}
		case "tread_from":
			when.TreadFrom = r.amount(rest).Length
		case "tread_under":
			when.TreadUnder = r.amount(rest).Length
		case "width_from":
			when.WidthFrom = r.amount(rest).Length
		case "drop_over":
			when.DropOver = r.amount(rest).Length
		case "faces":
			when.Faces = Faces(rest)
		case "":
		default:
			r.strange = append(r.strange, more)
		}
	}
	if when != (When{}) {
		rule.When = &when
	}
	r.set.Rules = append(r.set.Rules, rule)
}

// amount reads one figure; "" is none.
func (r *ruleReader) amount(s string) Amount {
	if s == "" {
		return Amount{}
	}
	figure, measure, _ := strings.Cut(s, " ")
	above, below, quotient := strings.Cut(figure, "/")
	x, err := strconv.ParseFloat(above, 64)
	if quotient && err == nil {
		var y float64
		y, err = strconv.ParseFloat(below, 64)
		x, measure = x/y, "ratio"
	}
	if err == nil {
		switch measure {
		case "mm":
			return length(unit.Length(x) * unit.Millimeter)
		case "in":
			return length(unit.Length(x) * unit.Inch)
		case "%":
			return ratio(x / 100)
		case "ratio":
			return ratio(x)
		case "deg":
			return degrees(x)
		case "":
			if x == math.Trunc(x) {
				return count(int(x))
			}
		}
	}
	r.strange = append(r.strange, s)
	return Amount{}
}

const trailTimber = `
set | trail-timber | specification | Scotland | Timber board and aggregate path steps
applies | A specification for grant-aided forest paths in Scotland; binds nobody else. It is for steps with long gravel treads, on paths that could not be ramped at 1:12. With its full riser of 150 mm and level treads it matches ground from 15 to 30 %. The steps are 150 mm wider than the path on each side.
edition | 30 March 2015
source | Scottish Government rural payments, Forestry Grant Scheme, capital item “Timber board and aggregate steps”
SCOT-RISE | riser max 150 mm | stop | specification, riser
SCOT-TREAD | tread range 500 mm to 1000 mm | stop | specification, tread
SCOT-SLOPE | path_slope min 1/12 | warn | specification, where steps are paid for | text steps are for where a ramped path would be steeper than 1:12
SCOT-LEVEL | wash max 0 % | note | specification, treads | text it asks for level treads; handbooks ask for a forward fall so that they drain
`

const countryside = `
set | countryside | advice | Scotland | Countryside path steps
applies | Advice for paths in the Scottish countryside; binds nobody. 1200 mm of width is for ordinary use, 1700 mm for heavy use, 600 mm will do where remote. Steps are cut into the slope and not built on it.
edition | as read from the online guide
source | Scottish Natural Heritage, Countryside Access Design Guide, Steps: key design principles
SNH-RISE | riser max 250 mm | stop | riser
SNH-RISE-EASY | riser max 170 mm | note | riser, where mobility matters
SNH-TREAD | tread min 300 mm | stop | tread
SNH-FLIGHT | flight_rise max 2000 mm | stop | rise of a flight
SNH-STEPS | flight_risers max 14 | stop | steps between landings
SNH-WIDTH | width min 1200 mm | warn | width
`

const trailUS = `
set | trail-us | advice | US | Trail steps of US agencies
applies | How the Forest Service and the trail clubs build steps of logs and timber on trails; binds nobody else. A tread long enough for a whole foot, a flat place above and below each step, begun at the bottom. New outdoor recreation access routes may not have stairs.
edition | 2007
source | USDA Forest Service, Trail Construction and Maintenance Notebook
FS-RISE | riser range 6 in to 8 in | stop | steps | source USDA Forest Service, Trail Construction and Maintenance Notebook, as quoted at second hand
ATC-RISE | riser max 8 in | warn | steps | edition as read online | source Appalachian Trail Conservancy, Rock and log step construction | text no more than 6 to 8 in
CRIB-TREAD | tread range 14 in to 40 in | note | crib steps | edition general handbook practice | source common practice | memory | text steps boxed in 6 x 6 in timber and filled with gravel
FS-OUTSLOPE | outslope range 2 % to 5 % | warn | Figure 80 | text sideways, more than any building code allows
ABA-SLOPE | path_slope min 1/20 | note | 1017.7.1 | edition summary of May 2014 | source Access Board, Outdoor Developed Areas | text a trail may run at up to 1:20 for any length without steps
`

const garden = `
set | garden | advice |  | Garden steps
applies | Proportions landscape designers use for steps out of doors; advice only. A free-standing path on a slope is mostly outside the building codes.
edition | as read online
source | dg2 Design, Exterior stairs, design guidelines (2R + T = 24 to 26 in)
GARDEN-RISE | riser range 4 in to 7 in | stop | riser | text 6 in preferred
GARDEN-TREAD | tread range 11 in to 18 in | stop | tread
GARDEN-SUM | step_sum range 24 in to 26 in | stop | 2R + T
GARDEN-WIDTH | width min 48 in | warn | width, private
BEALL-FLIGHT | flight_risers max 6 | note | ch. 8, p. 284 | edition 2004 | source Beall, Masonry and Concrete (McGraw-Hill) | text split longer flights by a landing 3 ft long
BEALL-LANDING | landing min 36 in | warn | ch. 8, p. 284 | edition 2004 | source Beall, Masonry and Concrete (McGraw-Hill)
GROUP-3 | flight_risers min 3 | warn | “Steps” | edition 2011 | source Construction for Landscape Architecture | text fewer are easily overlooked
WASH-1-2 | wash range 1 % to 2 % | note | “Garden stairs”, part 2 | source Polish landscape text, read in translation | text so that treads drain
PITCH-27 | pitch max 27 deg | note | stairs | edition as excerpted online | source building handbook, believed Merritt, Building Design and Construction Handbook | text about 1:2, the limit of comfort; outdoor stairs are usually of 20 to 30°
WALK-5 | path_slope min 5 % | note | walks | edition as excerpted online | source landscape design textbook, believed Booth and Hiss, Residential Landscape Architecture | text up to 5 % a walk will do without steps
`

const own = `
set | own | own |  | Limits of your own
applies | Nothing but sense: figures that keep steps walkable. Set your own limits in their place.
edition | 
source | common practice
OWN-RISE | riser range 75 mm to 250 mm | stop | riser
OWN-TREAD | tread range 220 mm to 1500 mm | stop | tread
OWN-LAND | landing min 600 mm | stop | landing
OWN-GUARD | guard over 600 mm | warn | drop
`
