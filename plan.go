package slopewright

import (
	"errors"

	"github.com/slopewright/slopewright/internal/docjson"
	"github.com/slopewright/slopewright/internal/fault"
)

// PlanFormat is the format of the plan documents this version reads and writes.
// Documents of version 1 will load for ever; fields may be added.
const PlanFormat = "slopewright.plan/1"

// A Fault is one thing wrong with a document: which field, what was found
// there, what is wrong with it and what would do.
type Fault = fault.Fault

// Faults is every fault of a document; it is an error.
type Faults = fault.List

// Plan is a plan document: what was measured, what is to be built, from what
// and by whom. Optional parts that are left out take the defaults that their
// comments and the published schema give.
type Plan struct {
	Format string `json:"format" need:"true" one:"slopewright.plan/1" doc:"the format of this document"`
	Title  string `json:"title,omitempty" most:"200" doc:"what the plan is called"`
	Notes  string `json:"notes,omitempty" most:"4000" doc:"anything worth keeping beside the plan"`
	Units  string `json:"units,omitempty" one:"imperial metric" doc:"how results are shown, never what they are; default metric"`
	// Sizes keeps a plan what it is when it is shown in other units.
	Sizes  string   `json:"sizes,omitempty" one:"imperial metric" doc:"whose usual sizes of timber, gravel, grid and the like stand where the plan gives none; default those of units"`
	Ground Ground   `json:"ground" need:"true" doc:"write how the hill was measured: { \"method\": …, \"readings\": … }"`
	Path   Path     `json:"path" need:"true" doc:"write the path's width and ends: { \"width\": \"4 ft\" }"`
	Steps  Steps    `json:"steps,omitzero" doc:"what steps are wanted"`
	Soil   Soil     `json:"soil,omitzero" doc:"what is dug in and where it goes"`
	Water  *Water   `json:"water,omitempty" doc:"the rain that the hill sends down to the path: it sizes what leads it off"`
	Build  Build    `json:"build,omitzero" doc:"how a box step is made"`
	Stock  []Stock  `json:"stock,omitempty" most:"200" doc:"the timber to be had: each section and length with its price; default the usual lengths of the timber, without prices"`
	Cut    Cut      `json:"cut,omitzero" doc:"how boards are chosen and cut"`
	Prices Prices   `json:"prices,omitzero" doc:"prices of everything that is not timber"`
	Crew   CrewSize `json:"crew,omitzero" doc:"who does the work"`
	Built  []Built  `json:"built,omitempty" most:"1000" doc:"the steps that stand already, from the foot up: the rest is planned from the last of them"`
	Quote  *Offer   `json:"quote,omitempty" doc:"who offers the work to whom, for a contractor's quote"`
}

// Ground is the hill as measured, by one of five methods.
type Ground struct {
	// Method is how it was measured; it decides which other fields there are.
	Method string `json:"method" variant:"true" need:"true" one:"total string rod slope levels" doc:"how the hill was measured"`
	// Rise and Run are all that method total knows.
	Rise *Length `json:"rise,omitempty" for:"total!" range:"(0,200]" doc:"write the height of the head above the foot"`
	Run  *Length `json:"run,omitempty" for:"total!" range:"(0,1000]" doc:"write the level distance from foot to head"`
	// From is the end the string's distances are measured from.
	From     string    `json:"from,omitempty" for:"string" one:"foot head" else:"leave it out: all but drops below a level string are measured from the foot up; or choose method string" doc:"the end that distances along the string are measured from; default foot"`
	Readings []Reading `json:"readings,omitempty" for:"string! rod! slope! levels!" most:"2000" doc:"write the readings as a list"`
	// Accuracy is ± of one reading; each method has a default of its own.
	Accuracy *Length `json:"accuracy,omitempty" range:"(0,1]" doc:"± of one reading; each method has a default"`
}

// Reading is one line of the field book. Which fields it has depends on the
// method.
type Reading struct {
	At        *Length `json:"at,omitempty" for:"string! rod levels!" range:"[-1000,1000]" doc:"write the level distance from the end measured from"`
	Drop      *Length `json:"drop,omitempty" for:"string!" range:"[-5,200]" doc:"write how far the ground lies below the level string"`
	Back      *Length `json:"back,omitempty" for:"rod" range:"[-10,10]" doc:"backsight: rod reading on a point of known level"`
	Mid       *Length `json:"mid,omitempty" for:"rod" range:"[-10,10]" doc:"intermediate sight"`
	Fore      *Length `json:"fore,omitempty" for:"rod" range:"[-10,10]" doc:"foresight: the last reading before the level is moved"`
	Bench     *Length `json:"bench,omitempty" for:"rod" range:"[-1000,9000]" doc:"the known level of this point: the first fixes the datum, a later one is a check"`
	Booked    *Length `json:"booked,omitempty" for:"rod" range:"[-1000,9000]" doc:"the reduced level booked in the field; it is checked"`
	Length    *Length `json:"length,omitempty" for:"slope!" range:"(0,200]" doc:"write the length taped along the slope"`
	Angle     *Angle  `json:"angle,omitempty" for:"slope" range:"(-1.5,1.5)" doc:"the clinometer's angle above the horizontal, uphill positive"`
	Grade     *Slope  `json:"grade,omitempty" for:"slope" range:"(-10,10)" doc:"the clinometer's grade, uphill positive"`
	Level     *Length `json:"level,omitempty" for:"levels!" range:"[-1000,9000]" doc:"write the level of the ground there"`
	Crossfall *Slope  `json:"crossfall,omitempty" for:"string rod slope levels" range:"[-2,2]" doc:"side slope of the ground across the path, positive up to the right looking uphill; default level"`
}

// Path is the path in plan.
type Path struct {
	Width Length `json:"width" need:"true" range:"[0.3,6]" doc:"write the width of the steps"`
	Foot  End    `json:"foot,omitzero" doc:"the lower end; default the lowest station measured, at the level of the ground"`
	Head  End    `json:"head,omitzero" doc:"the upper end; default the highest station measured, at the level of the ground"`
	Bends []Bend `json:"bends,omitempty" most:"100" doc:"where the centreline turns, from the foot up"`
}

// Bend is an arc of the centreline.
type Bend struct {
	_      [0]func() // not comparable, which spares code: see DEVELOPERS.md
	At     Length    `json:"at" need:"true" range:"[-1000,1000]" doc:"write the station where the arc begins, in the coordinates of the readings"`
	Radius Length    `json:"radius" need:"true" range:"(0,1000]" doc:"write the radius of the centreline"`
	Turn   float64   `json:"turn" need:"true" range:"[-180,180]" doc:"write the angle turned in degrees, positive to the right looking uphill"`
}

// End is one end of the path: its station and finished level, in the
// coordinates of the readings.
type End struct {
	At    *Length `json:"at,omitempty" range:"[-1000,1000]" doc:"station in the coordinates of the readings; of a string read from the head, from its lowest reading"`
	Level *Length `json:"level,omitempty" range:"[-1000,9000]" doc:"finished level there, in the datum of the readings; default the ground's"`
	// Slack frees the end within a window: the fit then chooses its station.
	Slack *Length `json:"slack,omitempty" range:"[0,5]" doc:"how far the end may lie to either side of its station: the fit tries up to 13 stations; default none"`
}

// Steps says what steps are wanted. Limits given here narrow those of the rule
// set; they never widen them.
type Steps struct {
	Rules string   `json:"rules,omitempty" most:"40" doc:"the rule set held against the steps; default garden"`
	Kinds []string `json:"kinds,omitempty" one:"box framed" most:"2" doc:"the kinds of flight allowed; default box; with framed, landings are at most 6 m deep unless a maximum is given"`
	Riser *Between `json:"riser,omitempty" doc:"allowed riser height"`
	Tread *Between `json:"tread,omitempty" doc:"allowed tread depth"`
	// Wash is the forward fall of a tread.
	Wash    *Slope       `json:"wash,omitempty" range:"[0,0.1]" doc:"forward fall of each tread; default 1:50"`
	Landing *LandingWish `json:"landing,omitempty" doc:"landings between flights"`
	MaxCut  *Length      `json:"max_cut,omitempty" range:"[0,10]" doc:"deepest formation below the ground; default 1.2 m"`
	MaxRise *Length      `json:"max_raise,omitempty" range:"[0,1]" doc:"highest formation above the ground, made up with tamped earth; default 0.1 m"`
	Grid    *Length      `json:"grid,omitempty" range:"[0.001,0.0127]" doc:"the grid of stations the fit chooses from; default 1/2 in or 10 mm"`
	Prefer  string       `json:"prefer,omitempty" one:"digging hours cost walking" doc:"what the fit makes least; default digging. Hours and cost go by what each riser, metre and m³ takes; for cost, the best of the other three is taken where its bill is lower"`
	Courses bool         `json:"courses,omitempty" doc:"only risers that whole timber courses on no more than the bedding allowed can make"`
	Joined  bool         `json:"joined,omitempty" doc:"the path is joined to a building, porch or deck, so that building codes bind it"`
	Fixed   []Fixed      `json:"fixed,omitempty" most:"200" doc:"my own layout from foot to head: it is evaluated, and nothing is fitted"`
	// FixedFoot and FixedHead say where in their windows the ends of the own layout lie.
	FixedFoot *Length `json:"fixed_foot,omitempty" range:"[-1000,1000]" doc:"station of the foot of my own layout, as far from path.foot.at as path.foot.slack allows; default path.foot.at"`
	FixedHead *Length `json:"fixed_head,omitempty" range:"[-1000,1000]" doc:"station of the head of my own layout, as far from path.head.at as path.head.slack allows; default path.head.at"`
}

// Between is a range of lengths; either end may be left out.
type Between struct {
	Min *Length `json:"min,omitempty" range:"(0,10]" doc:"least"`
	Max *Length `json:"max,omitempty" range:"(0,10]" doc:"greatest"`
}

// LandingWish says what landings are wanted.
type LandingWish struct {
	Min   *Length `json:"min,omitempty" range:"(0,10]" doc:"least depth; default the rule set's, or 36 in or 1 m"`
	Max   *Length `json:"max,omitempty" range:"(0,100]" doc:"greatest depth; default none"`
	Every int     `json:"every,omitempty" range:"[2,200]" doc:"most risers in a flight"`
	// Fewest keeps the fit from flights that are easily overlooked.
	Fewest int `json:"fewest,omitempty" range:"[2,200]" doc:"fewest risers in a flight; default what the rule set asks for at least, or 2; where nothing fits with what it only warns of, the fit goes on without"`
}

// Fixed is one flight of my own layout.
type Fixed struct {
	Kind     string  `json:"kind,omitempty" one:"box framed" doc:"default box"`
	Platform bool    `json:"platform,omitempty" doc:"the landing above is framed, as it can be between two framed flights"`
	Risers   int     `json:"risers" need:"true" range:"[1,1000]" doc:"write the number of risers in the flight"`
	Tread    *Length `json:"tread,omitempty" range:"(0,10]" doc:"depth of its treads; needed when the flight has more than one riser"`
	Landing  *Length `json:"landing,omitempty" range:"(0,100]" doc:"depth of the landing above it; the last flight has none"`
}

// Soil names the class of soil; single figures of the class can be overridden.
type Soil struct {
	Class  string   `json:"class,omitempty" most:"40" doc:"class of soil; default loam"`
	Swell  *float64 `json:"swell,omitempty" range:"[0,1.5]" doc:"loose volume over bank volume, less 1"`
	Shrink *float64 `json:"shrink,omitempty" range:"[-0.5,0.5]" doc:"1 less compacted volume over bank volume"`
	// Density is of the soil in the bank, kg/m³.
	Density *Quantity `json:"density,omitempty" unit:"kg/m3" range:"[500,3500]" doc:"kg/m³ in the bank, or as \"100 lb/ft3\""`
	Loose   *Quantity `json:"loose_density,omitempty" unit:"kg/m3" range:"[200,3500]" doc:"kg/m³ as dug, or as \"100 lb/ft3\", such as a weighed bucket gives: swell then follows from it and density, and is left out"`
	Repose  *float64  `json:"repose,omitempty" range:"[5,60]" doc:"slope it lies at when tipped loose, degrees from the level"`
	Type    string    `json:"type,omitempty" one:"A B C stable-rock" doc:"type of soil of 29 CFR 1926 Subpart P, where somebody competent has looked at it: how far a deep side is sloped back; default the class's"`
	Batter  *float64  `json:"batter,omitempty" range:"[0,3]" doc:"how far back the sides of the cut are sloped, horizontal per vertical; default the class's for a shallow cut"`
	Digging *Quantity `json:"digging,omitempty" unit:"m3/h" range:"[0.01,10]" doc:"m³ in the bank dug by one person in an hour, or as \"1 yd3/h\""`
	// Haul and Carry are distances from the path; the way along it is added.
	Haul   *Length `json:"haul,omitempty" range:"[0,1000]" doc:"where no places are given: how far from the foot of the path the heap lies that the spoil is barrowed to; default 15 m"`
	Carry  *Length `json:"carry,omitempty" range:"[0,1000]" doc:"how far from the path gravel and timber are unloaded; default 15 m"`
	Unload string  `json:"unload,omitempty" one:"foot head" doc:"the end of the path they are unloaded at; default foot"`
	// Topsoil is stripped off all that is worked, and is no part of the fill.
	Topsoil *Length      `json:"topsoil,omitempty" range:"[0,1]" doc:"depth of topsoil to strip first and keep apart; default none"`
	Spread  *Length      `json:"spread,omitempty" range:"[0.01,2]" doc:"how deep the spoil is spread where it is taken; default it is left in a heap"`
	Seen    []string     `json:"seen,omitempty" one:"cracks dug-before water" most:"3" doc:"what the ground shows: cracks, that it was dug or filled before, water coming out"`
	Places  []EarthPlace `json:"places,omitempty" most:"20" doc:"where spoil may go, and where earth may be fetched: of several the cheapest are used; default a heap at the foot"`
}

// EarthPlace is a place that spoil goes to, or that earth is fetched from.
type EarthPlace struct {
	_    [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Name string    `json:"name" need:"true" most:"60" doc:"write what it is called, such as the hollow behind the shed"`
	At   *Length   `json:"at,omitempty" range:"[-1000,1000]" doc:"the station where one turns off to it, in the coordinates of the readings; default the foot"`
	Off  *Length   `json:"off,omitempty" range:"[0,1000]" doc:"how far it is from there; default 15 m"`
	Rise *Length   `json:"rise,omitempty" range:"[-100,100]" doc:"how much higher than the path it lies, negative for lower; default level"`
	// Room is measured with a tape, and is of loose earth.
	Room  *Room   `json:"room,omitempty" doc:"what it holds, loose; default whatever comes"`
	Extra *Length `json:"extra,omitempty" range:"[0,1000]" doc:"what loading a truck, or paying, is worth to you: so many more metres of barrowing; default none"`
	Away  bool    `json:"away,omitempty" doc:"from there it leaves the site, in a skip or a truck"`
	Fetch bool    `json:"fetch,omitempty" doc:"earth is fetched from here when more is wanted than is dug"`
}

// Room is what a place holds, as a block of loose earth.
type Room struct {
	_      [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Length Length    `json:"length" need:"true" range:"(0,100]" doc:"write its length"`
	Width  Length    `json:"width" need:"true" range:"(0,100]" doc:"write its width"`
	Depth  Length    `json:"depth" need:"true" range:"(0,10]" doc:"write how deep the earth may lie"`
}

// Build is the detail of a box step: a frame of timbers filled with gravel.
type Build struct {
	_          [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Timber     string    `json:"timber,omitempty" most:"40" doc:"section of the timbers; default 6x6, or 100x200 in metric"`
	OnEdge     bool      `json:"on_edge,omitempty" doc:"the timbers stand on edge instead of lying flat"`
	Working    *Length   `json:"working,omitempty" range:"[0,2]" doc:"room to work each side of the boxes; default 0.15 m"`
	Topping    *Length   `json:"topping,omitempty" range:"[0,0.5]" doc:"compacted topping; default 2 in or 50 mm"`
	Fill       *Length   `json:"fill,omitempty" range:"[0,1]" doc:"compacted gravel between topping and base; default none"`
	Base       *Length   `json:"base,omitempty" range:"[0,0.5]" doc:"compacted base gravel; default 4 in or 100 mm"`
	Bedding    *Length   `json:"bedding,omitempty" range:"[0,0.05]" doc:"most bedding under a riser timber to make up its height; default 1 in or 25 mm"`
	HeadReturn *Length   `json:"head_return,omitempty" range:"[0.1,3]" doc:"length of the sides behind the last riser; default 2 ft or 600 mm"`
	Pin        *Length   `json:"pin,omitempty" range:"[0.2,2]" doc:"length of the pins; default 24 in or 600 mm"`
	Framed     Framed    `json:"framed,omitzero" doc:"how a framed flight is made; where no section is named and the usual sizes are metric, of the stock the smallest in millimetres that is no smaller than the default, and at most a third larger, takes its place"`
	Kerf       *Length   `json:"kerf,omitempty" range:"[0,0.02]" doc:"width of the saw cut; default 1/8 in or 3 mm"`
	Trim       *Length   `json:"trim,omitempty" range:"[0,0.3]" doc:"cut off each board to square its ends; default none"`

	// How the timbers of a box meet.
	Overlap        *Length `json:"overlap,omitempty" range:"(0,1]" doc:"how far the sides run on under the next riser timber; default the timber's breadth: it bears fully"`
	CrossEvery     *Length `json:"cross_every,omitempty" range:"[0,20]" doc:"a box deeper than this has cross pieces between its sides, so far apart at most; 0 is none; default 4 ft"`
	ScrewsPerJoint *int    `json:"screws_per_joint,omitempty" range:"[0,20]" doc:"structural screws in one joint; default 2"`
	Joint          string  `json:"joint,omitempty" one:"butt half-lap rebate" doc:"how sides and cross pieces meet the timber across them; default butt"`
	JointDepth     *Length `json:"joint_depth,omitempty" range:"(0,0.3]" doc:"depth of a rebate; default a third of the timber"`
	SpliceLap      *Length `json:"splice_lap,omitempty" range:"[0,2]" doc:"lap of a splice, each part cut to half its height; default butted"`
	// A board before the riser.
	Face           string  `json:"face,omitempty" most:"40" doc:"section of a board over each riser's face, such as 2x6; default none"`
	FaceRebate     *Length `json:"face_rebate,omitempty" range:"[0,0.1]" doc:"how deep it lies in the riser timber; default 0, on its face"`
	FaceScrewEvery *Length `json:"face_screw_every,omitempty" range:"[0.1,3]" doc:"most between the pairs of screws that hold it; default 2 ft or 600 mm"`
	// Landings, and the bank beside the boxes.
	LandingBack  bool    `json:"landing_back,omitempty" doc:"a landing has a timber across its back between the sides"`
	LandingEvery *Length `json:"landing_every,omitempty" range:"[0.1,20]" doc:"most between the cross pieces of a landing; default as in a step"`
	BankTo       *Length `json:"bank_to,omitempty" range:"(0,1.2192]" doc:"side timbers hold the cut bank up to this height, at most 4 ft; over 2 ft commonly needs a design; default the bank is sloped back"`
	BankFrom     *Length `json:"bank_from,omitempty" range:"[0,1]" doc:"the lowest bank that is held; default 4 in or 100 mm"`
	SpikeEvery   *Length `json:"spike_every,omitempty" range:"[0.1,3]" doc:"most between the spikes through a bank timber; default 2 ft or 600 mm"`
	Spike        *Length `json:"spike,omitempty" range:"[0.05,1]" doc:"length of a spike; default the timber's height and 4 to 5 in more"`
	BankBars     bool    `json:"bank_bars,omitempty" doc:"bars driven through three timbers at a time hold the bank's timbers together, in place of spikes"`
	// Deadmen tie back a bank that is held.
	NoDeadmen     bool     `json:"no_deadmen,omitempty" doc:"held banks are not tied back"`
	DeadmanFrom   *Length  `json:"deadman_from,omitempty" range:"(0,1.2192]" doc:"a held bank higher than this is tied back by deadmen, in every second course from the second; default 2 ft or 600 mm"`
	DeadmanLength *Length  `json:"deadman_length,omitempty" range:"[0.3,5]" doc:"how far they reach into the bank behind the timbers; default 4 ft, or the bank's height if that is more"`
	DeadmanEvery  *Length  `json:"deadman_every,omitempty" range:"[0.3,10]" doc:"most between them along a box; default 8 ft or 2.4 m"`
	DeadmanCross  *Length  `json:"deadman_cross,omitempty" range:"[0.1,3]" doc:"length of the cross piece on the far end; default 2 ft or 600 mm"`
	Footing       *Footing `json:"footing,omitempty" doc:"under the bottom step, so that the stack does not creep downhill; default none"`
	// Pins.
	NoPins     bool    `json:"no_pins,omitempty" doc:"no pins are driven"`
	Bar        string  `json:"bar,omitempty" most:"40" doc:"section of the pins; default no4-bar"`
	PinGround  *Length `json:"pin_ground,omitempty" range:"[0,2]" doc:"how far a pin stands in the ground; default 18 in"`
	PinEnd     *Length `json:"pin_end,omitempty" range:"[0,2]" doc:"from a pin to the timber's end; default 12 in"`
	PinSpacing *Length `json:"pin_spacing,omitempty" range:"[0.05,10]" doc:"most between pins; default 4 ft"`
	// Gravel, fabric, preservative, concrete.
	ToppingGravel string    `json:"topping_gravel,omitempty" most:"40" doc:"crushed-base, crushed-top, ballast or drain-rock; default crushed-top"`
	FillGravel    string    `json:"fill_gravel,omitempty" most:"40" doc:"default crushed-base"`
	BaseGravel    string    `json:"base_gravel,omitempty" most:"40" doc:"default crushed-base"`
	NoFabric      bool      `json:"no_fabric,omitempty" doc:"no fabric under the base"`
	FabricLap     *Length   `json:"fabric_lap,omitempty" range:"[0,2]" doc:"lap of the fabric at each box; default 12 in or 300 mm"`
	Coats         *int      `json:"coats,omitempty" range:"[0,10]" doc:"coats of preservative on ends cut on site; default 2"`
	Coverage      *Quantity `json:"coverage,omitempty" unit:"m2/l" range:"[0.1,1000]" doc:"m² of end grain that a litre covers once, or as \"75 ft2/gal\"; default 1.84, 75 sq ft a gallon"`
	Bag           string    `json:"bag,omitempty" one:"80lb 60lb 50lb 25kg 20kg none" doc:"bag that concrete is bought in, none for by volume; default 80lb, or 25kg in metric"`
	// What stands along the path.
	Edging *Edging `json:"edging,omitempty" doc:"strip along the path's sides; default none"`
	Lights *Lights `json:"lights,omitempty" doc:"low-voltage lights along the path; default none"`
	Waste  Waste   `json:"waste,omitzero" doc:"what is ordered over the need"`
}

// Framed is the detail of a framed flight: stringers, treads and what carries
// them.
type Framed struct {
	_        [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Stringer string    `json:"stringer,omitempty" most:"40" doc:"section of the stringers; default 2x12"`
	Board    string    `json:"board,omitempty" most:"40" doc:"section of the tread boards; default that of the library's detail"`
	Solid    bool      `json:"solid,omitempty" doc:"treads are hung between solid stringers instead of lying on cut ones"`
	Wood     string    `json:"wood,omitempty" most:"40" doc:"species and grade of the stringers; default southern-pine-2"`
	Gap      *Length   `json:"gap,omitempty" range:"[0,1]" doc:"air wanted under the stringers; default that of the library's detail"`
	Tread    *Between  `json:"tread,omitempty" doc:"tread depths allowed for framed flights; default as for box flights, at most 0.4 m"`

	LiveLoad        *AreaLoad `json:"live_load,omitempty" range:"[0.5,20]" doc:"on treads and landings, by level area; default 40 psf, 1.92 kN/m² (IRC Table R301.5)"`
	SnowLoad        *AreaLoad `json:"snow_load,omitempty" range:"[0,20]" doc:"snow on them, as the local code has it; alone and with three quarters of both (ASCE 7-16 2.4.1, from memory); default none"`
	Housing         *Length   `json:"housing,omitempty" range:"[0,0.1]" doc:"depth of the grooves in solid stringers that hold the treads; default 0, on brackets"`
	Spacing         *Length   `json:"spacing,omitempty" range:"[0.1,2]" doc:"most between cut stringers, or clear between solid ones; default 18 in, 36 in"`
	SpanLimit       *Length   `json:"span_limit,omitempty" range:"[0.5,10]" doc:"most between a stringer's bearings on the level; default 6 ft cut, 13 ft 3 in solid"`
	MinThroat       *Length   `json:"min_throat,omitempty" range:"[0,0.5]" doc:"what must be left of a cut stringer; default 5 in"`
	OpenRisers      bool      `json:"open_risers,omitempty" doc:"no boards close the risers"`
	RiserBoard      string    `json:"riser_board,omitempty" most:"40" doc:"section of the boards that close the risers; default 1x8"`
	Composite       bool      `json:"composite,omitempty" doc:"tread boards are no lumber: stringers stand 8 in apart unless spacing is given, and the maker's span governs"`
	Ledger          bool      `json:"ledger,omitempty" doc:"stringers stand on a ledger strip at the head instead of hanging in connectors"`
	PadDepth        *Length   `json:"pad_depth,omitempty" range:"[0.05,2]" doc:"concrete of the pad at the foot; default 12 in; below frost where the local code asks for it"`
	Post            string    `json:"post,omitempty" most:"40" doc:"section of the posts; default 6x6"`
	PostSpacing     *Length   `json:"post_spacing,omitempty" range:"[0.5,5]" doc:"most between posts; default 6 ft"`
	FootingDiameter *Length   `json:"footing_diameter,omitempty" range:"[0.1,2]" doc:"of the round footing of a post; default 12 in"`
	FootingDepth    *Length   `json:"footing_depth,omitempty" range:"[0.1,3]" doc:"default 12 in; below frost where the local code asks for it"`
	Beam            string    `json:"beam,omitempty" most:"40" doc:"section of the beams under landings; default 2x8, doubled"`
	Joist           string    `json:"joist,omitempty" most:"40" doc:"section of a framed landing's joists; default 2x8"`
	JoistSpacing    *Length   `json:"joist_spacing,omitempty" range:"[0.1,1]" doc:"default 16 in"`
	Decking         string    `json:"decking,omitempty" most:"40" doc:"section of a framed landing's boards; default 2x6"`
	GuardFrom       *Length   `json:"guard_from,omitempty" range:"[0,2]" doc:"a drop of more than this has a guard; default 30 in"`
	GuardSides      *int      `json:"guard_sides,omitempty" range:"[0,2]" doc:"sides that are open to the drop; default 2"`
	GuardHeight     *Length   `json:"guard_height,omitempty" range:"[0.5,1.5]" doc:"above nosings and landings; default 36 in"`
	GuardPost       string    `json:"guard_post,omitempty" most:"40" doc:"section; default 4x4"`
	GuardSpacing    *Length   `json:"guard_spacing,omitempty" range:"[0.3,3]" doc:"most between guard posts; default 6 ft"`
	GuardRail       string    `json:"guard_rail,omitempty" most:"40" doc:"section; default 2x4"`
	Baluster        string    `json:"baluster,omitempty" most:"40" doc:"section of the infill; default 2x2"`
	StairOpening    *Length   `json:"stair_opening,omitempty" range:"(0,0.5]" doc:"most between balusters of a flight; default 4 3/8 in"`
	Opening         *Length   `json:"opening,omitempty" range:"(0,0.5]" doc:"most between balusters of a landing; default 4 in"`
	Handrail        string    `json:"handrail,omitempty" most:"40" doc:"section; default 2x2"`
	HandrailFrom    *int      `json:"handrail_from,omitempty" range:"[1,100]" doc:"risers from which a flight has a handrail; default 4"`
	HandrailSides   *int      `json:"handrail_sides,omitempty" range:"[0,2]" doc:"default 1"`
	HandrailHeight  *Length   `json:"handrail_height,omitempty" range:"[0.5,1.2]" doc:"above the nosings; default 36 in"`
	HandrailTop     *Length   `json:"handrail_top,omitempty" range:"[0,1]" doc:"how far it goes on beyond the last riser; default none"`
	HandrailBottom  *Length   `json:"handrail_bottom,omitempty" range:"[0,1]" doc:"and before the first; default none"`
}

// Offer is what a contractor's quote says beside what follows from the plan;
// each is printed as it is written.
type Offer struct {
	From       string   `json:"from,omitempty" most:"200" doc:"the contractor's name"`
	Contact    string   `json:"contact,omitempty" most:"200" doc:"how to reach them"`
	For        string   `json:"for,omitempty" most:"200" doc:"the client"`
	Number     string   `json:"number,omitempty" most:"60" doc:"of the quote"`
	Date       string   `json:"date,omitempty" most:"60" doc:"of the quote"`
	ValidUntil string   `json:"valid_until,omitempty" most:"60" doc:"how long the price holds"`
	Terms      []string `json:"terms,omitempty" most:"50" doc:"of payment, access, working hours and the like"`
	Exclusions []string `json:"exclusions,omitempty" most:"50" doc:"what is not in the price, beside what follows from the plan"`
}

// Built is one step that stands already.
type Built struct {
	_     [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Riser int       `json:"riser" need:"true" range:"[1,1000]" doc:"write its number, counted from the foot"`
	At    Length    `json:"at" need:"true" range:"[-1000,1000]" doc:"write the station of its face, in the coordinates of the readings"`
	Level Length    `json:"level" need:"true" range:"[-1000,9000]" doc:"write the level of its top, in the datum of the readings"`
}

// Stock is one length of timber that can be bought.
type Stock struct {
	_         [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Section   string    `json:"section" need:"true" most:"40" doc:"write the section, such as 6x6 or 100x200: one of the tables, lumber by its nominal inches, or millimetres as it measures"`
	Length    Length    `json:"length" need:"true" range:"(0,20]" doc:"write the length sold"`
	Thickness *Length   `json:"thickness,omitempty" range:"[0.01,1]" doc:"what the section measures across, its smaller side, where your timber is dressed otherwise than the tables say; it is so for all lengths of the section"`
	Width     *Length   `json:"width,omitempty" range:"[0.01,1]" doc:"and its larger side"`
	Price     *Money    `json:"price,omitempty" doc:"price of one; without prices the least length is bought"`
	Available *int      `json:"available,omitempty" range:"[0,10000]" doc:"how many there are; default any number"`
	OnHand    int       `json:"on_hand,omitempty" range:"[0,10000]" doc:"how many of it are here already, offcuts or whole boards: they cost nothing and are used first; such an entry has no price"`
	CutEnds   int       `json:"cut_ends,omitempty" range:"[0,2]" doc:"how many of its two ends were sawn before, as an offcut's are; default none"`
}

// Prices is a price list.
type Prices struct {
	Currency string      `json:"currency,omitempty" most:"40" doc:"ISO 4217 code, three capitals; default USD or, in metric, EUR"`
	Tax      *Slope      `json:"tax,omitempty" range:"[0,1]" doc:"sales tax on top of the prices; default none"`
	Items    []ItemPrice `json:"items,omitempty" most:"200" doc:"price of each item of the take-off"`
	// Deliveries, labour and mark-ups make a contractor's quote of the bill.
	Deliveries   []Delivery   `json:"deliveries,omitempty" most:"100" doc:"what bringing the goods costs, once or by the load"`
	Labour       []LabourRate `json:"labour,omitempty" most:"100" doc:"work paid by the hour"`
	TaxLabour    bool         `json:"tax_labour,omitempty" doc:"there is tax on labour as well"`
	Markup       *Slope       `json:"markup,omitempty" range:"[0,10]" doc:"mark-up on goods and deliveries, as 15 %; default none"`
	LabourMarkup *Slope       `json:"labour_markup,omitempty" range:"[0,10]" doc:"mark-up on labour; default none"`
	Rounding     string       `json:"rounding,omitempty" one:"half-up half-even up" doc:"how each line and the tax are rounded to the smallest coin; default half-up"`
}

// ItemPrice is the price of one item of the take-off.
type ItemPrice struct {
	_     [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Item  string    `json:"item" need:"true" most:"40" doc:"write the item's name in the take-off, such as base-gravel"`
	Price Money     `json:"price" need:"true" doc:"write the price of one unit, such as \"42.50\""`
	Per   string    `json:"per" need:"true" most:"12" doc:"write the unit it is sold by: each, m, ft, m2, ft2, yd2, m3, ft3, yd3, kg, lb, t, ton, l, gal or bag"`
	Pack  *float64  `json:"pack,omitempty" range:"(0,100000]" doc:"sold only in multiples of so many units; default 1 for each, otherwise any amount"`
	Name  string    `json:"name,omitempty" most:"80" doc:"what the yard calls it, and the bill"`
	Least *float64  `json:"least,omitempty" range:"(0,100000]" doc:"the least that is sold at all; default one pack"`
	// Holds is asked for where the price is per bag.
	Holds    *float64 `json:"holds,omitempty" range:"(0,100000]" doc:"how much one bag holds"`
	HoldsPer string   `json:"holds_per,omitempty" most:"12" doc:"the unit of what a bag holds: l, ft3, kg or lb"`
}

// CrewSize is who does the work.
type CrewSize struct {
	People      int        `json:"people,omitempty" range:"[1,50]" doc:"default 2"`
	HoursPerDay *float64   `json:"hours_per_day,omitempty" range:"(0,24]" doc:"default 6"`
	DaysPerWeek *float64   `json:"days_per_week,omitempty" range:"(0,7]" doc:"default 2: weekends"`
	Start       string     `json:"start,omitempty" most:"40" doc:"first day of the work, such as 2026-05-02: the order of work is then dated"`
	Days        []string   `json:"days,omitempty" one:"mon tue wed thu fri sat sun" most:"7" doc:"the days of the week that are worked; default as many as are worked a week: Saturday and Sunday, or from Monday on"`
	Rates       *CrewRates `json:"rates,omitempty" doc:"outputs of one person, where they are known better than by the handbooks"`
}

// ReadPlan reads a plan document. The error is a [Faults] that lists everything
// that can be told from the document alone and, where there is such a fault, what else is wrong
// with the rest of it; where there is none, [Make] finds that.
func ReadPlan(data []byte) (Plan, error) {
	n, err := docjson.Parse(data)
	if err != nil && n.Kind != docjson.Object {
		return Plan{}, err
	}
	p, decodeErr := readPlan(n)
	var all Faults
	all.Put("", err)
	all.Put("", decodeErr)
	return p, all.Err()
}

func readPlan(n docjson.Node) (Plan, error) {
	var p Plan
	if err := knownFormat(n); err != nil {
		return p, err
	}
	err := docjson.Decode(n, &p)
	return p, alsoWrong(p, err)
}

// knownFormat refuses a document of another format, in one sentence instead of
// a fault for each of its fields.
func knownFormat(n docjson.Node) error {
	if f, ok := n.Get("format"); ok && f.Kind == docjson.String && f.Text != PlanFormat {
		return Faults{{
			Field: "format", Got: fault.Shorten(f.Text), Problem: "is not a format this version reads",
			Fix: "write " + PlanFormat + ", or use a later version of Slopewright for a later format",
		}}
	}
	return nil
}

// Bytes writes the plan as a document, indented, each reading as it was typed.
func (p Plan) Bytes() ([]byte, error) {
	if p.Format == "" {
		p.Format = PlanFormat
	}
	b, err := docjson.Marshal(p, 2)
	if err != nil {
		return nil, errors.New("slopewright: the plan holds a number that JSON cannot: " + err.Error())
	}
	return append(b, '\n'), nil
}
