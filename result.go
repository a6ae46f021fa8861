package slopewright

import (
	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/docjson"
	"github.com/slopewright/slopewright/internal/lang"
)

// ResultFormat is the format of the result documents this version writes.
const ResultFormat = "slopewright.result/1"

// Version is the version of this module. Everything a result says follows from
// the plan document and this version.
const Version = "0.1.0"

// Hours is working time in person-hours.
type Hours float64

// Result is everything that follows from a plan. Lengths are metres, areas m²,
// volumes m³, masses kg and times hours in its JSON form; money is a decimal
// string. Fields with text in them are written in the plan's units.
type Result struct {
	Format  string `json:"format"`
	Version string `json:"version"`
	Title   string `json:"title"`
	Units   string `json:"units"`

	// Answer is the plan in sentences, the most wanted first.
	Answer   []Sentence    `json:"answer"`
	Ground   GroundResult  `json:"ground"`
	Layout   LayoutResult  `json:"layout"`
	Dig      DigResult     `json:"dig"`
	Haul     HaulResult    `json:"haul"`
	Build    BuildResult   `json:"build,omitzero" doc:"absent from a sketch"`
	Water    *WaterResult  `json:"water,omitempty" doc:"present where the plan says what rain the hill sends"`
	Certain  *Certainty    `json:"certainty,omitempty" doc:"absent where there are too many readings to try; of a path that is half built, for what is left of it"`
	Hours    HoursResult   `json:"hours"`
	Order    []WorkOrder   `json:"order,omitempty" doc:"the order of work, from the bottom up; absent from a sketch"`
	Takeoff  []TakeoffItem `json:"takeoff"`
	CutPlan  CutPlanResult `json:"cutplan"`
	Bill     BillResult    `json:"bill"`
	Notes    []NoteResult  `json:"notes,omitempty" doc:"what to mind in making it, from the take-off"`
	Findings []Finding     `json:"findings"`
	StakeOut []Mark        `json:"stakeout"`
	// Choices are layouts to choose between, when they were asked for.
	Choices []ChoiceResult `json:"choices,omitempty"`
	// Comparison sets another plan's bill beside this one's, when it was asked for.
	Comparison *ComparisonResult `json:"comparison,omitempty"`
	// Tables are comma-separated values by name, those asked for.
	Tables map[string]string `json:"tables,omitempty"`
	// Drawings are SVG documents by name, those asked for.
	Drawings map[string]string `json:"drawings,omitempty"`
	// Sheets are HTML documents by kind, those asked for.
	Sheets map[string]string `json:"sheets,omitempty"`

	// said is the language, nil for English; english is the result before it
	// was put into it.
	said    *lang.Speaker
	english *Result
}

// Sentence is one line of the answer.
type Sentence struct {
	Key  string `json:"key" doc:"what it is about: steps, walking, deepest, earth, haul, hidden, certainty, timber, gravel, money, time"`
	Says string `json:"says"`
}

// Plus is a measured value and what it is known to.
type Plus struct {
	Value     unit.Length `json:"value"`
	PlusMinus unit.Length `json:"plus_minus"`
}

// GroundPoint is a point of the ground, from the foot of the path.
type GroundPoint struct {
	Station   unit.Length `json:"station"`
	Level     unit.Length `json:"level"`
	Crossfall float64     `json:"crossfall"`
}

// GroundResult is the real ground and how well it is known.
type GroundResult struct {
	Method string `json:"method"`
	// Datum is where station 0, level 0 (the foot's finished surface) lies in
	// the coordinates of the readings.
	Datum  GroundPoint   `json:"datum"`
	Points []GroundPoint `json:"points"`
	Rise   Plus          `json:"rise"`
	Run    Plus          `json:"run"`
	Checks []Check       `json:"checks"`
	Book   []BookLine    `json:"book,omitempty" doc:"the rod book, reduced by rise and fall"`
	Notes  []string      `json:"notes,omitempty"`
}

// Check is one check of the readings on themselves.
type Check struct {
	Name   string      `json:"name"`
	Says   string      `json:"says"`
	Value  unit.Length `json:"value"`
	Limit  unit.Length `json:"limit"`
	OK     bool        `json:"ok"`
	Source string      `json:"source,omitempty"`
}

// BookLine is one line of the reduced rod book.
type BookLine struct {
	Line    int          `json:"line"`
	Rise    *unit.Length `json:"rise,omitempty"`
	Fall    *unit.Length `json:"fall,omitempty"`
	Level   unit.Length  `json:"level" doc:"reduced level"`
	Correct unit.Length  `json:"corrected" doc:"with the misclose spread"`
}

// LayoutResult is the steps.
type LayoutResult struct {
	Risers   int             `json:"risers"`
	Riser    unit.Length     `json:"riser"`
	Run      unit.Length     `json:"run"`
	Rise     unit.Length     `json:"rise"`
	Wash     float64         `json:"wash"`
	Fitted   bool            `json:"fitted" doc:"false: the plan's own layout was evaluated"`
	Flights  []FlightResult  `json:"flights"`
	Landings []LandingResult `json:"landings"`
	Steps    []StepResult    `json:"steps"`
	// StepRule is 2R + T of each flight in order.
	StepRule []unit.Length `json:"step_rule"`
	// Misfit is how far out of step a walker is in all, by the outdoor pace.
	Misfit unit.Length   `json:"misfit"`
	Bends  []BendResult  `json:"bends,omitempty" doc:"where the centreline turns"`
	Wedges []WedgeResult `json:"wedges,omitempty" doc:"treads on bends"`
	Built  *BuiltResult  `json:"built,omitempty" doc:"present for a path that is half built: the rest of the layout is what is still to be built"`
}

// WedgeResult is a tread that a bend makes deeper on one side.
type WedgeResult struct {
	Riser int         `json:"riser"`
	Inner unit.Length `json:"inner"`
	Outer unit.Length `json:"outer"`
}

// BuiltResult is the steps that stand, and how the rest meets them.
type BuiltResult struct {
	Risers  int           `json:"risers" doc:"how many stand"`
	Heights []unit.Length `json:"heights"`
	Treads  []unit.Length `json:"treads"`
	Spread  unit.Length   `json:"spread" doc:"largest less smallest riser, built and to be built"`
}

// FlightResult is a flight: risers of one height with treads of one depth.
type FlightResult struct {
	Kind   string      `json:"kind"`
	First  int         `json:"first"`
	Risers int         `json:"risers"`
	Tread  unit.Length `json:"tread"`
	Start  unit.Length `json:"start"`
	End    unit.Length `json:"end"`
}

// LandingResult is a landing between two flights.
type LandingResult struct {
	Kind  string      `json:"kind" doc:"box: it bears on the ground; framed: a platform"`
	After int         `json:"after" doc:"the riser it lies above"`
	Start unit.Length `json:"start"`
	End   unit.Length `json:"end"`
	Depth unit.Length `json:"depth"`
	Level unit.Length `json:"level" doc:"at its front edge"`
}

// StepResult is one riser and the tread behind it.
type StepResult struct {
	Riser   int         `json:"riser"`
	Kind    string      `json:"kind"`
	Station unit.Length `json:"station"`
	Level   unit.Length `json:"level" doc:"of the nosing"`
	Tread   unit.Length `json:"tread" doc:"0 for the last, which lands on the head"`
	Landing bool        `json:"landing"`
	Stands  bool        `json:"stands,omitempty" doc:"built before; only its tread is new"`
}

// DigResult is the earth.
type DigResult struct {
	CutBank           unit.Volume `json:"cut_bank"`
	FillCompacted     unit.Volume `json:"fill_compacted" doc:"earth tamped in under formation above the ground"`
	BackfillCompacted unit.Volume `json:"backfill_compacted" doc:"earth tamped in beside the boxes"`
	ReusedBank        unit.Volume `json:"reused_bank"`
	SpoilBank         unit.Volume `json:"spoil_bank"`
	BorrowBank        unit.Volume `json:"borrow_bank" doc:"earth to be brought, where more goes back than comes out"`
	SpoilLoose        unit.Volume `json:"spoil_loose"`
	SpoilMass         unit.Mass   `json:"spoil_mass"`
	TopsoilBank       unit.Volume `json:"topsoil_bank,omitempty" doc:"of cut_bank: topsoil, stripped first and kept apart; the rest is reused or spoil"`
	TrenchBank        unit.Volume `json:"trench_bank" doc:"of cut_bank: trenches under riser timbers"`
	FootingBank       unit.Volume `json:"footing_bank,omitempty" doc:"of cut_bank: pads and post holes of framed flights, the bottom step's footing"`
	// RiseOverRun is the same number of equal steps by the sum of rise over run;
	// absent where only rise and run were measured.
	RiseOverRun *RiseOverRun `json:"rise_over_run,omitempty"`
	// Bow is what the hill may hide between two points; present where only
	// rise and run were measured.
	Bow            *Bow        `json:"bow,omitempty"`
	AverageEndArea unit.Volume `json:"average_end_area" doc:"cut_bank without trenches, footings and drain, by average end area, as a check"`
	Prismoidal     unit.Volume `json:"prismoidal" doc:"cut_bank without trenches, footings and drain, by the prismoidal formula, as a check"`
	Deepest        Deepest     `json:"deepest"`
	FormationWidth unit.Length `json:"formation_width"`
	Batter         float64     `json:"batter" doc:"horizontal per vertical"`
	BuildUp        unit.Length `json:"build_up" doc:"from formation to finished tread"`
	Steps          []StepDig   `json:"steps"`
	Parts          []DigPart   `json:"parts" doc:"what cut_bank is made of; they add up to it"`
	States         []SoilState `json:"states" doc:"each soil in its states; dug and brought is reused and left"`
	Lines          []EarthLine `json:"lines" doc:"the same to read, in the units of the plan"`
	Loads          []Load      `json:"loads"`
	Soil           SoilResult  `json:"soil"`
}

// EarthLine is one quantity of earth to read.
type EarthLine struct {
	Key   string `json:"key" doc:"the field of dig it says"`
	Name  string `json:"name"`
	Says  string `json:"says"`
	State string `json:"state" doc:"in the bank, tamped or loose"`
}

// Deepest is the deepest cut on the centreline.
type Deepest struct {
	Depth   unit.Length `json:"depth"`
	Station unit.Length `json:"station"`
	Riser   int         `json:"riser" doc:"the riser whose tread it is under"`
}

// RiseOverRun is the digging for equal steps straight from foot to head: what
// the sum makes believe, and what the hill makes of it.
type RiseOverRun struct {
	Tread         unit.Length `json:"tread"`
	Thought       unit.Volume `json:"thought" doc:"cut if the ground were straight from foot to head, in the bank"`
	CutBank       unit.Volume `json:"cut_bank" doc:"cut on the real ground"`
	FillCompacted unit.Volume `json:"fill_compacted" doc:"fill on the real ground"`
}

// Bow is the digging for the same steps on a hill that bows up or down between
// foot and head, as a parabola does.
type Bow struct {
	Bow   unit.Length `json:"bow" doc:"how far halfway: a twentieth of the run, or a quarter of the rise if that is less; common practice"`
	Least unit.Volume `json:"least" doc:"the least cut on the hill bowed up, straight or bowed down"`
	Most  unit.Volume `json:"most" doc:"the greatest"`
	Fill  unit.Volume `json:"fill_compacted" doc:"the greatest fill"`
}

// StepDig is the digging for one step.
type StepDig struct {
	_                 [0]func()   // not comparable, which spares code: see DEVELOPERS.md
	Riser             int         `json:"riser"`
	Kind              string      `json:"kind" doc:"what carries the tread: box or framed"`
	FootingBank       unit.Volume `json:"footing_bank,omitempty" doc:"part of cut_bank: pads and post holes of a framed flight, the bottom step's footing"`
	CutBank           unit.Volume `json:"cut_bank"`
	TopsoilBank       unit.Volume `json:"topsoil_bank,omitempty" doc:"part of cut_bank"`
	TrenchBank        unit.Volume `json:"trench_bank" doc:"part of cut_bank"`
	FillCompacted     unit.Volume `json:"fill_compacted"`
	BackfillCompacted unit.Volume `json:"backfill_compacted"`
	Formation         unit.Length `json:"formation" doc:"level dug to at the front of the tread"`
	Depth             unit.Length `json:"depth" doc:"deepest cut under the tread"`
	Parts             []StepPart  `json:"parts" doc:"what cut_bank is made of; they add up to it"`

	deepestAt unit.Length
	pads      unit.Volume // of footing_bank, as are the posts
	posts     unit.Volume
	drain     unit.Volume // dug above the path
	deadmen   unit.Volume // trenches of those that tie back the bank
}

// Load is the spoil in one kind of carrier.
type Load struct {
	_       [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Carrier string    `json:"carrier"`
	Count   int       `json:"count"`
	Binds   string    `json:"binds" doc:"what fills it first: volume or payload"`
	Source  string    `json:"source"`
	Full    string    `json:"full" doc:"how much fills one, to read, and whether that was assumed or is the plan's"`
	Assumed bool      `json:"assumed" doc:"the size is assumed, not the plan's"`

	holds string
}

// SoilResult is the figures the earth was reckoned with.
type SoilResult struct {
	Class   string       `json:"class"`
	Name    string       `json:"name"`
	Figures []SoilFigure `json:"figures"`
}

// SoilFigure is one figure with its source.
type SoilFigure struct {
	Name   string  `json:"name"`
	Value  float64 `json:"value"`
	Source string  `json:"source"`
}

// HoursResult is the time the work takes.
type HoursResult struct {
	Work   []Activity `json:"work"`
	Low    Hours      `json:"low"`
	Likely Hours      `json:"likely"`
	High   Hours      `json:"high"`
	People int        `json:"people"`
	Days   Span       `json:"days" doc:"working days of the whole crew"`
	Weeks  Span       `json:"weeks" doc:"weeks of the crew; weekends when it works two days a week or fewer"`
	Notes  []string   `json:"notes,omitempty"`
}

// Span is whole days or weeks, begun ones counted whole.
type Span struct {
	Low    int `json:"low"`
	Likely int `json:"likely"`
	High   int `json:"high"`
}

// Activity is the time for one kind of work, in person-hours.
type Activity struct {
	Name   string `json:"name"`
	Low    Hours  `json:"low"`
	Likely Hours  `json:"likely"`
	High   Hours  `json:"high"`
	Source string `json:"source"`
}

// TakeoffItem is one line of the list of what the work needs.
type TakeoffItem struct {
	_       [0]func()    // not comparable, which spares code: see DEVELOPERS.md
	Item    string       `json:"item"`
	Name    string       `json:"name"`
	Section string       `json:"section,omitempty"`
	Count   int          `json:"count,omitempty"`
	Length  *unit.Length `json:"length,omitempty" doc:"of all pieces together"`
	Area    *unit.Area   `json:"area,omitempty"`
	Volume  *unit.Volume `json:"volume,omitempty" doc:"as built"`
	Order   *unit.Volume `json:"order,omitempty" doc:"loose, with waste: what to order"`
	Mass    *unit.Mass   `json:"mass,omitempty"`
	Waste   float64      `json:"waste" doc:"allowance, as a fraction"`
	Note    string       `json:"note,omitempty"`
	Says    string       `json:"says" doc:"the quantity in the plan's units"`
}

// CutPlanResult says which boards to buy and how to cut them.
type CutPlanResult struct {
	Boards []Board      `json:"boards"`
	Cost   *Money       `json:"cost,omitempty" doc:"absent where a price is missing"`
	Bound  *Money       `json:"bound,omitempty" doc:"no cut plan can cost less than this"`
	Proven bool         `json:"proven" doc:"true: nothing is cheaper"`
	By     string       `json:"by" doc:"what was made least: cost, length, or both: the cost of what has a price and the length of the rest"`
	Kept   []KeptOffcut `json:"kept,omitempty" doc:"offcuts worth keeping"`
	Notes  []string     `json:"notes,omitempty"`
}

// KeptOffcut is what is left of so many boards and worth keeping.
type KeptOffcut struct {
	_          [0]func()   // not comparable, which spares code: see DEVELOPERS.md
	Section    string      `json:"section"`
	Length     unit.Length `json:"length"`
	Count      int         `json:"count"`
	FactoryEnd bool        `json:"factory_end,omitempty" doc:"one of its ends was never sawn"`
	Says       string      `json:"says"`
}

// Board is so many boards cut alike.
type Board struct {
	Count   int          `json:"count"`
	Section string       `json:"section"`
	Length  unit.Length  `json:"length"`
	Pieces  []BoardPiece `json:"pieces"`
	Offcut  unit.Length  `json:"offcut"`
	OnHand  bool         `json:"on_hand,omitempty" doc:"here already: not bought"`
	FarEnd  bool         `json:"far_end,omitempty" doc:"the last piece keeps the board's far end: the offcut lies before it"`
	Says    string       `json:"says"`
}

// BoardPiece is a piece cut from a board.
type BoardPiece struct {
	Use    string      `json:"use"`
	Length unit.Length `json:"length"`
	// FactoryEnds is how many of its ends had to be the board's own.
	FactoryEnds int `json:"factory_ends,omitempty"`
}

// BillResult is the take-off with prices.
type BillResult struct {
	Currency string     `json:"currency"`
	Lines    []BillLine `json:"lines" doc:"timber, other goods, deliveries, mark-up, labour, mark-up on labour"`
	// Goods, Deliveries, Labour and Markups add up to Subtotal.
	Goods      Money    `json:"goods"`
	Deliveries Money    `json:"deliveries"`
	Markups    Money    `json:"markups"`
	Labour     Money    `json:"labour"`
	Subtotal   Money    `json:"subtotal"`
	Taxed      Money    `json:"taxed" doc:"what of the subtotal the tax is reckoned on"`
	Tax        Money    `json:"tax"`
	Total      Money    `json:"total"`
	Unpriced   []string `json:"unpriced" doc:"names of the lines without a price: the total leaves them out"`
	Rounding   string   `json:"rounding"`
	Notes      []string `json:"notes,omitempty"`
}

// BillLine is one line of the bill.
type BillLine struct {
	_       [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Item    string    `json:"item" doc:"an item of the take-off, or board, delivery, mark-up, labour, labour-mark-up"`
	Section string    `json:"section,omitempty"`
	Name    string    `json:"name"`
	Need    string    `json:"need" doc:"empty for a mark-up"`
	Buy     string    `json:"buy"`
	Price   *Money    `json:"price,omitempty" doc:"of one unit; absent where there is none"`
	Cost    *Money    `json:"cost,omitempty"`
	OnHand  bool      `json:"on_hand,omitempty" doc:"here already: not bought"`
	Untaxed bool      `json:"untaxed,omitempty"`
	Note    string    `json:"note,omitempty"`
}

// NoteResult is something to mind in making a part of the work.
type NoteResult struct {
	_     [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Item  string    `json:"item" doc:"the item of the take-off that it is about"`
	Where string    `json:"where,omitempty" doc:"as risers 2 to 9; absent where it is about all"`
	Says  string    `json:"says"`
}

// Finding is something to know: a limit passed or missed, a doubt in the
// readings, a danger.
type Finding struct {
	_        [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Severity string    `json:"severity" doc:"stop, warn or note; caution for a danger of the work"`
	Rule     string    `json:"rule"`
	Clause   string    `json:"clause,omitempty"`
	Source   string    `json:"source"`
	Says     string    `json:"says"`
	Limit    string    `json:"limit,omitempty"`
	Actual   string    `json:"actual,omitempty"`
	Where    string    `json:"where,omitempty"`
}

// Mark is a line of the stake-out table: one riser. Every mark is measured from
// the datum and rounded once, so that rounding never adds up.
type Mark struct {
	Riser    int         `json:"riser"`
	Station  unit.Length `json:"station"`
	FromHead unit.Length `json:"from_head"`
	Level    unit.Length `json:"level" doc:"top of the riser above the foot"`
	Drop     unit.Length `json:"drop" doc:"top of the riser below a level string at the head"`
	DigTo    unit.Length `json:"dig_to" doc:"formation behind the riser below the same string"`
	Text     MarkText    `json:"text"`
}

// MarkText is a mark as it is read from a tape.
type MarkText struct {
	_        [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Station  string    `json:"station"`
	FromHead string    `json:"from_head"`
	Level    string    `json:"level"`
	Drop     string    `json:"drop"`
	DigTo    string    `json:"dig_to"`
}

// Bytes writes the result as a document, indented. Its numbers have twelve significant
// digits and at most twelve decimals.
func (r Result) Bytes() ([]byte, error) {
	b, err := docjson.MarshalRounded(r, 2)
	if err != nil {
		return nil, err
	}
	return append(b, '\n'), nil
}
