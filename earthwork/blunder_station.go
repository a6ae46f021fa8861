package earthwork

import (
	"math"

	"github.com/martinlindhe/unit"
)

// blunderMost is the most stations that are looked at: every one is tried.
const blunderMost = 500

// FindStationBlunder looks for one wrong station among 4 to 500, in the order of the
// book, uphill or, where lines may stand in any order, downhill. It gives which it is,
// which of the stations that meant gives for it fits, and how far an end lies from the
// one beside it, 0 of one that is out of order.
//
// Where the order does not go one way, it is the only station that goes in it when it is
// what it may have been meant to be, with gaps to both sides no more than twice the longest
// of the others (or the one whose gaps are then less than half as long as those of any
// other such); in any order it is not the first or the last, which may be a point that was
// taken later. Where the order goes one way, only an end can be told: one at least eight
// times as far from its neighbour as any other two are apart, and 10 m, and that may have
// been meant to be as far from it as the others are. The measure is our own, as of
// [FindBlunder].
func FindStationBlunder(stations []unit.Length, anyOrder bool, meant func(i int) []unit.Length) (index, which int, gap unit.Length, ok bool) {
	n, sign := len(stations), 1.0
	if n < 4 || n > blunderMost {
		return 0, 0, 0, false
	}
	if anyOrder && stations[1] > stations[n-2] { // measured downhill
		sign = -1
	}
	s := make([]float64, n)
	for i, x := range stations {
		s[i] = sign * float64(x)
	}
	shortest, _ := gaps(s, -1)
	ordered := shortest > 0
	best, next := math.Inf(1), math.Inf(1) // the longest gap with the one mended, and with another
	for i, was := range s {
		end := i == 0 || i == n-1
		if end == !ordered && (ordered || anyOrder) {
			continue
		}
		shortest, longest := gaps(s, i)
		far := math.Abs(was - s[max(i-1, min(1, n-1-i))])
		if ordered && (far < blunderLong*longest || far < blunderReach) {
			continue
		}
		for k, y := range meant(i) {
			s[i] = sign * float64(y)
			least, most := gaps(s, -1)
			if least <= 0 || most > 2*longest || ordered && least < shortest/2 {
				continue
			}
			if next = math.Min(next, most); most < best {
				index, which, best, next = i, k, most, best
				if ordered {
					gap = unit.Length(far)
				}
			}
			break
		}
		s[i] = was
	}
	return index, which, gap, 2*best < next // of two that are as likely neither
}

// gaps are the shortest and the longest of the steps between stations, but for those to
// and from one of them; the shortest is 0 or less where the order goes back.
func gaps(s []float64, without int) (shortest, longest float64) {
	shortest = math.Inf(1)
	for i := 1; i < len(s); i++ {
		if i != without && i-1 != without {
			d := s[i] - s[i-1]
			shortest, longest = math.Min(shortest, d), math.Max(longest, d)
		}
	}
	return shortest, longest
}
