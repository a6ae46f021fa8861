package stair

import "strings"

// irc2021 is the stairs of the International Residential Code with the section
// numbers of 2021.
const irc2021 = `
let | code | International Residential Code
let | jeffco | {code}, as given by Jefferson County, “Stairways”
let | everett | {code}, as given in the City of Everett's tip sheet
let | park | {code}, as given by Litchfield Park, “Stairway”
let | guards | {code}, as given by Jefferson County, “Guards”
set | irc-2021 | code | US | IRC R311.7, one- and two-family dwellings, 2021 (US)
applies | Stairs that are required or provided within or attached to a building, porch or deck of a one- or two-family dwelling. By its first exception R311.7 does not bind stairs not within or attached to one: a free-standing garden path is outside, a flight up to a deck is inside (exception from memory). Local amendments are common.
edition | 2018; 2021 the same, from memory
source | {code}
IRC-SCOPE | scope binds | note | R311.7, exception 1 | edition 2021 | memory | text R311.7 is for stairs required or provided; stairs not within or attached to a building, porch or deck are excepted
IRC-RISE-MAX | riser max 7.75 in | stop | R311.7.5.1 | source {jeffco}
IRC-RISE-UNI | riser_spread max 0.375 in | stop | R311.7.5.1 | source {everett}
IRC-OPEN | riser_gap less 4 in | stop | R311.7.5.1 | drop_over 30 in | source {everett} | text a 4 in sphere must not pass openings more than 30 in above the ground, the place from memory; the 2018 tip sheet excepts stairs of a total rise of 30 in
IRC-TREAD-MIN | tread min 10 in | stop | R311.7.5.2 | source {jeffco}
IRC-TREAD-UNI | tread_spread max 0.375 in | stop | R311.7.5.2 | source {park}
IRC-NOSE | nosing under 11 in | note | R311.7.5.3 exception | memory | text 3/4 to 1 1/4 in of projection; none is needed on treads of 11 in
IRC-NOSE-DEPTH | nosing_depth range 0.75 in to 1.25 in | stop | R311.7.5.3 | tread_under 11 in | faces solid | source {everett} | text rounded to 9/16 in or bevelled to 1/2 in at most, from memory
IRC-FLIGHT | flight_rise max 151 in | stop | R311.7.3 | edition 2018, 2021, 2024 | memory
IRC-WIDTH | width min 36 in | stop | R311.7.1 | source {jeffco}
IRC-WIDTH-HR1 | rail_width min 31.5 in | stop | R311.7.1 | sides 1 | source {jeffco}
IRC-WIDTH-HR2 | rail_width min 27 in | stop | R311.7.1 | sides 2 | source {jeffco}
IRC-HEAD | headroom min 80 in | stop | R311.7.2 | source {jeffco}
IRC-LAND | landing min 36 in | stop | R311.7.6 | source {everett}
IRC-LAND-WIDE | landing_breadth min | stop | R311.7.6 | memory | text landings are as wide as the flight
IRC-LAND-END | end_landing min 36 in | stop | R311.7.6 | memory | text a landing at the top and the bottom of each stairway
IRC-SLOPE | wash max 1/48 | stop | R311.7.7 | memory
IRC-SLOPE-ACROSS | outslope max 1/48 | stop | R311.7.7 | memory | text in any direction
IRC-WIND-10 | wedge_walkline min 10 in | stop | R311.7.5.2.1 | walkline 12 in | source {park} | text 12 in from the narrow side, R311.7.4
IRC-WIND-UNI | wedge_spread max 0.375 in | stop | R311.7.5.2.1 | walkline 12 in | memory | text wedges that are alike need not be as deep as the straight treads of their flight
IRC-WIND-6 | wedge_narrow min 6 in | stop | R311.7.5.2.1 | source {park} | text anywhere in the clear width
IRC-HR | handrail from 4 | warn | R311.7.8 | sides 1 | edition 2018 to 2024 | source {park} | text 34 to 38 in above the line of nosings
IRC-GUARD | guard over 30 in | warn | R312.1.1 | source {guards} | text measured anywhere within 36 in of the open edge; 36 in high, 34 in beside a stair; a 4 in sphere must not pass, 4 3/8 in beside a stair, 6 in through the triangle of riser, tread and rail
`

const ibc2015 = `
let | forum | International Building Code, quoted in The Building Code Forum, “How is a stair tread measured”
set | ibc-2015 | code | US | IBC 1011, other buildings (US)
applies | Stairways that serve occupied parts of buildings other than one- and two-family dwellings; not a free-standing garden path.
edition | 2015
source | International Building Code
IBC-SCOPE | scope binds | note | 1011.1 | memory | text 1011 is for stairways that serve occupied parts of a building
IBC-RISE | riser range 4 in to 7 in | stop | 1011.5.2 | source {forum}
IBC-TREAD | tread min 11 in | stop | 1011.5.2 | source {forum}
IBC-NOSE | nosing_depth max 1.25 in | stop | 1011.5.5 | memory | text its leading edge rounded to 9/16 in at most
IBC-WIND | wedge_walkline min 11 in | stop | 1011.5.2 | walkline 12 in | source {forum} | text on a walkline 12 in from the narrow side, that distance from memory
IBC-WIND-MIN | wedge_narrow min 10 in | stop | 1011.5.2 | source {forum}
IBC-WIDTH | width min 44 in | stop | 1011.2 | memory | text 36 in for fewer than 50 people
IBC-HR | handrail from 1 | warn | 1011.11 | sides 2 | memory | text 34 to 38 in, going on 12 in at the top and a tread's depth at the bottom; one side within dwelling units
use | ibc | IBC
`

// ibcR3 is the exception for dwellings under the IBC.
const ibcR3 = `
let | forum | International Building Code, quoted in The Building Code Forum, “How is a stair tread measured”
set | ibc-r3 | code | US | IBC 1011, dwellings by exception 3 (US)
applies | Stairways of group R-3, within dwelling units of R-2, and of the group U buildings that go with them; not a free-standing garden path.
edition | 2015
source | International Building Code
IBCR3-SCOPE | scope binds | note | 1011.1 | memory | text 1011 is for stairways that serve occupied parts of a building
IBCR3-RISE | riser max 7.75 in | stop | 1011.5.2 ex. 3 | source {forum}
IBCR3-TREAD | tread min 10 in | stop | 1011.5.2 ex. 3 | source {forum}
IBCR3-NOSE | nosing under 11 in | note | 1011.5.2 ex. 3 | source {forum} | text 3/4 to 1 1/4 in of projection
IBCR3-NOSE-DEPTH | nosing_depth range 0.75 in to 1.25 in | stop | 1011.5.2 ex. 3 | tread_under 11 in | faces solid | source {forum}
IBCR3-WIND | wedge_walkline min 10 in | stop | 1011.5.2 ex. 3 | walkline 12 in | source {forum} | text on a walkline 12 in from the narrow side, that distance from memory
IBCR3-WIND-MIN | wedge_narrow min 6 in | stop | 1011.5.2 ex. 3 | source {forum}
IBCR3-WIDTH | width min 36 in | stop | 1011.2 | memory | text for fewer than 50 people
IBCR3-HR | handrail from 1 | warn | 1011.11 | sides 1 | memory | text 34 to 38 in; within dwelling units
use | ibc | IBCR3
`

// ibcShared is what all stairs under the IBC share.
const ibcShared = `
{1}-RISE-UNI | riser_spread max 0.375 in | stop | 1011.5.4 | memory | text the end riser on a sloping walk may taper by 1:12 across the stair when it is marked
{1}-TREAD-UNI | tread_spread max 0.375 in | stop | 1011.5.4 | memory
{1}-LAND | landing_width min to 48 in | stop | 1011.6 | memory | text as deep as the stair is wide, 48 in at most
{1}-SLOPE | wash max 1/48 | stop | 1011.7.1 | memory
{1}-SLOPE-ACROSS | outslope max 1/48 | stop | 1011.7.1 | memory
{1}-WET | drainage more 0 % | warn | 1011.7.2 | memory | text outdoor treads and the ways to them must not pond
{1}-FLIGHT | flight_rise max 144 in | stop | 1011.8 | source International Building Code, as quoted at second hand
{1}-GUARD | guard over 30 in | warn | 1015.2 | memory | text 42 in high; a 4 in sphere must not pass up to 36 in, 4 3/8 in above, 6 in through the triangle of riser, tread and rail
`

const ada504 = `
set | ada-504 | code | US | ADA / ABA 504, stairs on a means of egress (US)
applies | Interior and exterior stairs that are part of a means of egress (210.1). New outdoor recreation access routes may not have stairs; elsewhere on trails it is good practice and does not bind.
edition | 2010 ADA Standards
source | ADA and ABA Standards, 504 Stairways
ADA-SCOPE | scope binds_all | note | 210.1 | source 2010 ADA Standards, as quoted by an accessibility inspector | text 504 binds stairs that are part of a means of egress
ADA-RISE | riser range 4 in to 7 in | stop | 504.2 | text all risers of a flight uniform
ADA-TREAD | tread min 11 in | stop | 504.2 | text all treads of a flight uniform
ADA-OPEN | open_risers max 0 | stop | 504.3 | text open risers are not allowed
ADA-SLOPE | wash max 1/48 | stop | 504.4
ADA-SLOPE-ACROSS | outslope max 1/48 | stop | 504.4
ADA-NOSE | nosing_depth max 1.5 in | stop | 504.5 | text its edge rounded to 1/2 in at most, the riser leaning 30° at most
ADA-WET | drainage more 0 % | warn | 504.7 | text treads and landings must not hold water
ADA-HR | handrail from 1 | warn | 505 | sides 2 | source Guide to the ADA Standards, Stairways | text 34 to 38 in, going on 12 in at the top and a tread's depth at the bottom
`

const waCamp = `
set | wa-camp | code | US, Washington | WAC 246-359-520, temporary worker housing (Washington)
applies | Stairs of temporary worker housing in the State of Washington; a stricter yardstick for handrails elsewhere.
edition | as read online
source | Washington Administrative Code 246-359-520
WAC-SCOPE | scope binds_all | note | 246-359-520 | text it is for temporary worker housing
WAC-RISE | riser range 4 in to 8 in | stop | 246-359-520
WAC-RUN | tread min 9 in | stop | 246-359-520
WAC-RISE-UNI | riser_spread max 0.375 in | stop | 246-359-520
WAC-RUN-UNI | tread_spread max 0.375 in | stop | 246-359-520
WAC-HR | handrail from 3 | warn | 246-359-520 | sides 1
WAC-GUARD | guard over 30 in | warn | 246-359-520 | text 36 in high; a 4 in sphere must not pass
`

const wiUDC = `
set | wi-udc | code | US, Wisconsin | SPS 321.04, one- and two-family dwellings (Wisconsin)
applies | Landings and guards of stairs of one- and two-family dwellings in Wisconsin; a stricter yardstick for guards elsewhere. It is not the whole of the section.
edition | as read in a text copy
source | Wisconsin Administrative Code SPS 321.04
WI-SCOPE | scope binds | note | SPS 321.04 | text it is for one- and two-family dwellings
WI-FLIGHT | flight_rise less 144 in | stop | SPS 321.04(3)(c) | text a stair 12 ft or higher has a landing on the way
WI-LAND | landing min 36 in | stop | SPS 321.04(3)(c)
WI-GUARD | guard over 24 in | warn | SPS 321.04(4) | text measured within 3 ft; a 4 3/8 in sphere must not pass
`

// irc2024 is the same figures under the numbers of the 2024 edition, where
// the means of egress went from R311 to R318 and guards from R312 to R321. All
// of that is from memory.
func irc2024() RuleSet {
	s := ruleSet(irc2021)
	s.ID, s.Name = "irc-2024", "IRC R318.7, one- and two-family dwellings, 2024 (US)"
	renumber := func(text string) string {
		return strings.ReplaceAll(strings.ReplaceAll(text, "R311.7", "R318.7"), "R312.1", "R321.1")
	}
	s.Applies = renumber(s.Applies) + " Figures are those of the editions before it and section numbers are from memory: look both up."
	for i := range s.Rules {
		r := &s.Rules[i]
		r.ID = "IRC24" + strings.TrimPrefix(r.ID, "IRC")
		r.Clause, r.Text = renumber(r.Clause), renumber(r.Text)
		r.Edition = "2024; section number and figure from memory, the figure as in 2018 and 2021"
		r.Source = "International Residential Code"
		r.Remembered = true
	}
	return s
}
