package stair

// adkStair is what the three kinds of stair of Approved Document K share: risers
// from {2} to {3} mm, goings from {4} to {5} mm.
const adkStair = `
let | adkScope | Approved Document K is for internal steps, and for external ones only when they are part of the building; stepped access on the way to it is for Approved Document M
let | adk1998 | Approved Document K, an older edition, at second hand
let | adk | Approved Document K, Protection from falling, collision and impact
{1}-SCOPE | scope binds | note | 1.1 | text {adkScope}
{1}-RISE | riser range {2} mm to {3} mm | stop | Table 1.1
{1}-GOING | tread range {4} mm to {5} mm | stop | Table 1.1
{1}-SUM | step_sum range 550 mm to 700 mm | warn | Table 1.1, note | text the “normal relationship”, guidance
{1}-OVERLAP | nosing_depth min 16 mm | stop | Diagram 1.1 | faces open | text treads overlap over open risers
{1}-HEAD | headroom min 2000 mm | stop | headroom | edition at second hand | source {adk1998}
{1}-LAND-GROUND | end_slope max 1/20 | warn | 1.17 | edition 1998; 2013 not checked | source {adk} | text ground that serves as landing, paved or firm
{1}-36 | risers over 36 | warn | 1.17 | memory | text consecutive flights change direction at least once
{1}-HR | handrail from 1 | warn | handrails | sides 1 | edition at second hand | source {adk1998} | text 900 to 1000 mm above the line of nosings
{1}-HR2 | handrail from 1 | warn | handrails | sides 2 | width_from 1000 mm | edition at second hand | source {adk1998} | text on both sides where the stair is 1000 mm wide or wider
{1}-TAPER | wedge_straight min | stop | 1.18 to 1.20 (2013: 1.25 to 1.27) | walkline 270 mm below 1000 mm | edition 1998 | source {adk} | text 270 mm from the narrow side, or midway where the flight is less than 1 m wide: no less than the straight goings
{1}-TAPER-MIN | wedge_narrow min 50 mm | stop | 1.18 to 1.20 (2013: 1.25 to 1.27) | edition 1998 | source {adk}
`

const adkPrivate = `
let | adk | Approved Document K, Protection from falling, collision and impact
set | adk-private | code | England | Approved Document K, private stair (England)
applies | Stairs inside a dwelling, and external steps only where they are part of the building (paragraph 1.1). A stepped approach to the door is for Approved Document M; a free-standing garden path is for neither.
edition | 2013
source | {adk}
use | adk-stair | UKK | 150 | 220 | 220 | 300
UKK-PITCH | pitch max 42 deg | stop | Table 1.1, note 1
UKK-TAPER-EXT | wedge_walkline min 280 mm | stop | Table 1.1, note 2 | walkline 270 mm below 1000 mm | text external tapered steps; the note may be read as asking it of every external step that is part of the building
UKK-LAND | landing_width min | stop | landings | edition an older edition, at second hand | text as deep as the flight is wide
UKK-LAND-WIDE | landing_breadth min | stop | landings | edition an older edition, at second hand | text as broad as the flight is wide
UKK-LAND-LEVEL | landing_wash max 0 % | note | landings | edition an older edition, at second hand | text landings are level; those the ground forms may slope 1:20
UKK-GUARD | guard over 600 mm | warn | 1.40, 1.41 | text dwellings; 900 mm high beside a stair, a 100 mm sphere must not pass, both from memory
`

// adkPublic is what utility and general access stairs share beside adkStair.
const adkPublic = `
{1}-NOSE | nosing_depth max 25 mm | stop | Diagram 1.1 | text buildings other than dwellings
{1}-12 | flight_risers max 12 | stop | 1.18 | tread_under 350 mm | memory | text goings under 350 mm; 16 in small premises
{1}-18 | flight_risers max 18 | stop | 1.18 | tread_from 350 mm | memory | text goings of 350 mm or more
{1}-LAND | landing min 1200 mm | stop | 1.23 | text other than dwellings
{1}-GUARD | guard_risers from 2 | warn | 1.40, 1.41 | text buildings other than dwellings; a 100 mm sphere must not pass, from memory
`

const adkUtility = `
let | adk | Approved Document K, Protection from falling, collision and impact
set | adk-utility | code | England | Approved Document K, utility stair (England)
applies | Stairs for escape, access for maintenance and the like, and external steps only where they are part of the building (paragraph 1.1); not a free-standing garden path.
edition | 2013
source | {adk}
use | adk-stair | UKKU | 150 | 190 | 250 | 400
use | adk-public | UKKU
`

const adkGeneral = `
let | adk | Approved Document K, Protection from falling, collision and impact
set | adk-general | code | England | Approved Document K, general access stair (England)
applies | Stairs that everybody uses in buildings other than dwellings, and external steps only where they are part of the building (paragraph 1.1); not a free-standing garden path.
edition | 2013
source | {adk}
use | adk-stair | UKKG | 150 | 170 | 250 | 400
use | adk-public | UKKG
`

const admDwelling = `
set | adm-dwelling | code | England | Approved Document M, stepped approach to a dwelling (England)
applies | External steps on the approach to the entrance of a new dwelling, M4(1) and M4(2), where a ramp will not do; not a garden path that leads elsewhere. All its figures are from memory.
edition | 2015 edition with 2016 amendments
source | Approved Document M, volume 1, Dwellings
memory
UKM1-SCOPE | scope binds_all | note | stepped approach | text it is for the approach to the entrance of a dwelling
UKM1-RISE | riser range 75 mm to 150 mm | stop | stepped approach | text uniform
UKM1-GOING | tread min 280 mm | stop | stepped approach | text uniform
UKM1-TAPER | wedge_walkline min 280 mm | stop | stepped approach | walkline 270 mm | text 270 mm from the inside
UKM1-WIDTH | width min 900 mm | stop | stepped approach | text clear
UKM1-FLIGHT | flight_rise max 1800 mm | stop | stepped approach
UKM1-LAND | landing min 900 mm | stop | stepped approach
UKM1-HR | handrail from 3 | warn | stepped approach | sides 1 | text one that can be gripped, 850 to 1000 mm high, going on 300 mm
`

const admOther = `
set | adm-other | code | England | Approved Document M, stepped access to other buildings (England)
applies | External stepped access to buildings other than dwellings; not a garden path. All its figures are from memory.
edition | 2015
source | Approved Document M, volume 2, Buildings other than dwellings
memory
UKM2-SCOPE | scope binds_all | note | 1.33 | text it is for stepped access to a building
UKM2-RISE | riser range 150 mm to 170 mm | stop | 1.33
UKM2-GOING | tread range 280 mm to 425 mm | stop | 1.33
UKM2-SINGLE | flight_risers min 2 | stop | 1.33 | text no single steps
UKM2-12 | flight_risers max 12 | stop | 1.33 | tread_under 350 mm | text goings under 350 mm
UKM2-18 | flight_risers max 18 | stop | 1.33 | tread_from 350 mm | text goings of 350 mm or more
UKM2-WIDTH | width min 1200 mm | stop | 1.33
UKM2-LAND | landing min 1200 mm | stop | 1.33
`
