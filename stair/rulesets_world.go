package stair

// Rule sets of Australia, Canada and New Zealand.

// ncc is a stair of the National Construction Code, its goings from {2}.
const ncc = `
let | from | National Construction Code, Housing Provisions
{1}-SCOPE | scope binds | note | scope | source National Construction Code | memory | text it is for stairs that are part of a building
{1}-RISE | riser range 115 mm to 190 mm | stop | 11.2.2
{1}-GOING | tread range {2} to 355 mm | stop | 11.2.2
{1}-SUM | step_sum range 550 mm to 700 mm | stop | 11.2.2
{1}-N | flight_risers range 2 to 18 | stop | 11.2.2 | source {from} | memory
{1}-RISE-NEXT | riser_adjacent max 5 mm | stop | 11.2.2 | source {from} | memory
{1}-RISE-UNI | riser_spread max 10 mm | stop | 11.2.2 | source {from} | memory
{1}-GOING-NEXT | tread_adjacent max 5 mm | stop | 11.2.2 | source {from} | memory
{1}-GOING-UNI | tread_spread max 10 mm | stop | 11.2.2 | source {from} | memory
{1}-OPEN | riser_gap less 125 mm | stop | 11.2.2 | source {from} | memory | text a 125 mm sphere must not pass between treads
{1}-LAND | landing min 750 mm | stop | 11.2.5 | source {from} | memory
{1}-LAND-SLOPE | landing_wash max 1/50 | stop | 11.2.5 | source {from} | memory
{1}-BAR | guard from 1000 mm | warn | 11.3 | source {from} | memory | text handrails at 865 mm
`

const nccPrivate = `
set | ncc-private | code | Australia | NCC, private stair (Australia)
applies | Stairs of dwellings, inside and out, where they are part of the building; not a free-standing garden path.
edition | 2022
source | National Construction Code, volume 1 Table D3D14 (private) and Housing Provisions 11.2.2, at second hand
use | ncc | AU | 240 mm
`

const nccPublic = `
set | ncc-public | code | Australia | NCC, public stair (Australia)
applies | Stairs of buildings that the public uses, inside and out, where they are part of the building; not a free-standing garden path. What is not in volume 1 Table D3D14 is as for dwellings.
edition | 2022
source | National Construction Code, volume 1 Table D3D14 (public), at second hand
use | ncc | AUP | 250 mm
`

// ca is what private and public stairs under Part 9 share; {2} is the least
// run of their wedges on the walkline, {3} says whether that is from memory.
const ca = `
let | obcText | O.Reg. 332/12
let | obc | Ontario Building Code
{1}-SCOPE | scope binds | note | 9.8.1 | memory | text it is for stairs of buildings
{1}-RISE-NEXT | riser_adjacent max 5 mm | stop | 9.8.4.4 | edition {obcText} | source {obc} | text the end riser on a sloping walk may taper by 1:12 across the stair, (2)
{1}-RISE-UNI | riser_spread max 10 mm | stop | 9.8.4.4 | edition {obcText} | source {obc}
{1}-RUN-NEXT | tread_adjacent max 5 mm | stop | 9.8.4.4 | edition {obcText} | source {obc}
{1}-RUN-UNI | tread_spread max 10 mm | stop | 9.8.4.4 | edition {obcText} | source {obc}
{1}-TSLOPE | wash max 1/50 | stop | 9.8.4.4.(5) | edition {obcText} | source {obc}
{1}-TSLOPE-ACROSS | outslope max 1/50 | stop | 9.8.4.4.(5) | edition {obcText} | source {obc}
{1}-TAPER | wedge_walkline range {2} to 355 mm | stop | 9.8.4.3 | walkline 300 mm | edition {obcText} | source {obc} | text 300 mm from the centre line of the inside handrail | {3}
{1}-TAPER-MIN | wedge_narrow min 150 mm | stop | 9.8.4.3 | edition {obcText} | source {obc}
{1}-FLIGHT | flight_rise max 3700 mm | stop | 9.8.3.3 | edition {obcText} | source {obc}
`

const caPrivate = `
let | caNoLanding |  The landing at the foot of an outdoor stair may be left out where no gate, door or obstruction is nearer than the lesser of the stair's width and 1100 mm (9.8.6.2.(3)).
let | nbc | National Building Code of Canada and Ontario Building Code, Part 9
let | obcText | O.Reg. 332/12
let | obc | Ontario Building Code
set | ca-private | code | Canada | NBC / OBC 9.8, private stair (Canada)
applies | Stairs of houses and small buildings; not a free-standing garden path.{caNoLanding}
edition | NBC 2015, 2020; O.Reg. 332/12
source | {nbc}
CA-RISE | riser range 125 mm to 200 mm | stop | Table 9.8.4.1 | memory
CA-RUN | tread range 255 mm to 355 mm | stop | Table 9.8.4.1 | memory
CA-NOSE | nosing_depth max 25 mm | stop | 9.8.4.2 | edition {obcText} | source {obc} | text treads are as deep as the run, or up to 25 mm deeper
CA-HR | handrail from 4 | warn | 9.8.7 | sides 1 | memory | text exterior stair of one dwelling: none for 3 risers or fewer
CA-GUARD | guard over 600 mm | warn | 9.8.8 | memory | text 900 mm high up to a drop of 1.8 m, then 1070 mm
use | ca | CA | 255 mm | memory
`

const caPublic = `
let | caNoLanding |  The landing at the foot of an outdoor stair may be left out where no gate, door or obstruction is nearer than the lesser of the stair's width and 1100 mm (9.8.6.2.(3)).
let | obcText | O.Reg. 332/12
let | obc | Ontario Building Code
let | nbc | National Building Code of Canada and Ontario Building Code, Part 9
set | ca-public | code | Canada | OBC, public stair (Canada)
applies | Stairs of buildings that the public uses; not a free-standing garden path. Uniformity, slope, wedge treads and flights are those of 9.8.{caNoLanding}
edition | {obcText}
source | {obc}
CAP-RISE | riser range 125 mm to 180 mm | stop | 3.4.6 (number from memory)
CAP-RUN | tread range 280 mm to 355 mm | stop | 3.4.6 (number from memory)
CAP-GUARD | guard over 600 mm | warn | 9.8.8 | edition NBC 2015, 2020 | source {nbc} | memory | text 900 mm high up to a drop of 1.8 m, then 1070 mm
use | ca | CAP | 280 mm
`

// nz is a kind of stair of D1/AS1: {2} its riser, {3} its tread, {4} its pitch in
// degrees.
const nz = `
edition | as remembered
source | New Zealand Building Code, Acceptable Solution D1/AS1
{1}-SCOPE | scope binds | note | D1 | source New Zealand Building Code | memory | text it is for access routes of buildings
{1}-RISE | riser max {2} | stop | Table 6 | memory
{1}-TREAD | tread min {3} | stop | Table 6 | memory
{1}-PITCH | pitch max {4} deg | stop | Table 6 | memory
{1}-SINGLE | flight_risers min 2 | stop | D1.3.3 | edition as read online | source New Zealand Building Code, as given by Standards New Zealand, “Stair design” | text no isolated steps or single risers
`

const nzAccessible = `
set | nz-accessible | code | New Zealand | D1/AS1, accessible stair (New Zealand)
applies | Stairs that people with disabilities use, in and about buildings; not a free-standing garden path.
use | nz | NZA | 180 mm | 310 mm | 32
`

const nzMain = `
set | nz-main | code | New Zealand | D1/AS1, common or main private stair (New Zealand)
applies | Stairs several households share, and the main stair of a dwelling; not a free-standing garden path.
use | nz | NZC | 190 mm | 280 mm | 37
`

const nzSecondary = `
set | nz-secondary | code | New Zealand | D1/AS1, secondary private stair (New Zealand)
applies | A dwelling's stairs beside the main one; not a free-standing garden path.
use | nz | NZS | 200 mm | 250 mm | 41
`

const nzMinor = `
set | nz-minor | code | New Zealand | D1/AS1, minor private stair (New Zealand)
applies | A dwelling's stairs to a single room or the like; not a free-standing garden path.
use | nz | NZM | 220 mm | 220 mm | 47
`

const nzOutdoor = `
set | nz-outdoor | advice | New Zealand | Auckland, universal design of outdoor stairs (New Zealand)
applies | Advice of a city for stairs outdoors that everybody uses; binds nobody.
edition | as read online
source | Auckland Design Manual, universal design checklist for stairs
AKL-RISE | riser max 180 mm | stop | external steps
AKL-TREAD | tread min 310 mm | stop | external steps
AKL-RISE-GOOD | riser range 150 mm to 180 mm | note | steps
AKL-TREAD-GOOD | tread range 310 mm to 450 mm | note | steps
AKL-FLIGHT | flight_rise max 1800 mm | stop | landings
AKL-STEPS | flight_risers max 12 | stop | landings
AKL-EQUAL | equal_flights max 0 | warn | landings | text as many steps in each section
AKL-LAND | landing min 1200 mm | stop | landings
`
