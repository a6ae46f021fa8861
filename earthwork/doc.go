// Package earthwork turns what was read on a hillside into the ground, and the
// ground into earth to move.
//
// It needs no other package of the module and can be used alone.
//
// # Ground
//
// [Ground] is the surface before the work along the centreline of a path:
// points of station and level, straight in between, each with the crossfall of
// the hillside there. Stations are horizontal distances, uphill positive;
// levels are heights above a datum. [NewGround] makes one from points;
// the readings below make one from the field book.
package earthwork
