package tape

import (
	"math"
	"math/big"
	"strings"
)

// ratio is an exact quotient of whole numbers in lowest terms, its denominator
// above 0. It does what a text needs and no more: big.Rat is 7 kB of the
// browser's program. Ratios are never changed.
type ratio struct{ num, den *big.Int }

func ratioOf(num, den int64) ratio { return lowest(big.NewInt(num), big.NewInt(den)) }

// lowest takes what is common out of both, by Euclid.
func lowest(num, den *big.Int) ratio {
	if den.Sign() < 0 {
		num, den = new(big.Int).Neg(num), new(big.Int).Neg(den)
	}
	a, b := new(big.Int).Abs(num), new(big.Int).Set(den)
	for b.Sign() != 0 {
		a, b = b, new(big.Int).Rem(a, b)
	}
	if a.BitLen() > 1 {
		num, den = new(big.Int).Quo(num, a), new(big.Int).Quo(den, a)
	}
	return ratio{num, den}
}

// decimals reads digits with at most one point.
func decimals(text string) ratio {
	whole, part, _ := strings.Cut(text, ".")
	num, _ := new(big.Int).SetString(whole+part, 10)
	if num == nil {
		num = new(big.Int)
	}
	den := big.NewInt(1)
	ten := big.NewInt(10)
	for range part {
		den.Mul(den, ten)
	}
	return lowest(num, den)
}

func times(a, b *big.Int) *big.Int { return new(big.Int).Mul(a, b) }

func (a ratio) plus(b ratio) ratio {
	return lowest(new(big.Int).Add(times(a.num, b.den), times(b.num, a.den)), times(a.den, b.den))
}
func (a ratio) minus(b ratio) ratio { return a.plus(ratio{new(big.Int).Neg(b.num), b.den}) }
func (a ratio) times(b ratio) ratio { return lowest(times(a.num, b.num), times(a.den, b.den)) }

// over divides; b is not 0.
func (a ratio) over(b ratio) ratio { return lowest(times(a.num, b.den), times(a.den, b.num)) }
func (a ratio) cmp(b ratio) int    { return times(a.num, b.den).Cmp(times(b.num, a.den)) }
func (a ratio) sign() int          { return a.num.Sign() }

// whole is the whole part, towards 0.
func (a ratio) whole() *big.Int { return new(big.Int).Quo(a.num, a.den) }
func (a ratio) isWhole() bool   { return a.den.IsInt64() && a.den.Int64() == 1 }

func (a ratio) String() string { return a.num.String() + "/" + a.den.String() }

// millionths writes six decimals, halves away from zero.
func (a ratio) millionths() string {
	n := a.times(ratioOf(1e6, 1)).plus(ratioOf(int64(a.sign()), 2)).whole()
	sign := ""
	if n.Sign() < 0 {
		sign = "-"
	}
	s := n.Abs(n).String()
	if len(s) < 7 {
		s = strings.Repeat("0", 7-len(s)) + s
	}
	return sign + s[:len(s)-6] + "." + s[len(s)-6:]
}

// float is the nearest float64, ties to even. Ratios of texts are far from what
// a float64 cannot hold.
func (a ratio) float() float64 {
	if a.num.Sign() == 0 {
		return 0
	}
	// A quotient of 65 or 66 bits, its last one set where there is a rest, is
	// rounded as the ratio would be.
	num, den := new(big.Int).Abs(a.num), new(big.Int).Set(a.den)
	shift := 65 - (num.BitLen() - den.BitLen())
	if shift > 0 {
		num.Lsh(num, uint(shift))
	} else {
		den.Lsh(den, uint(-shift))
	}
	q, rest := new(big.Int).QuoRem(num, den, new(big.Int))
	extra := q.BitLen() - 64
	lost := new(big.Int).Sub(q, new(big.Int).Lsh(new(big.Int).Rsh(q, uint(extra)), uint(extra)))
	u := new(big.Int).Rsh(q, uint(extra)).Uint64()
	if lost.Sign() != 0 || rest.Sign() != 0 {
		u |= 1
	}
	f := math.Ldexp(float64(u), extra-shift)
	if a.num.Sign() < 0 {
		return -f
	}
	return f
}

// exactly is the ratio that a finite float64 is.
func exactly(f float64) ratio {
	m, e := math.Frexp(f)
	num, den := big.NewInt(int64(m*(1<<53))), big.NewInt(1)
	if e -= 53; e > 0 {
		num.Lsh(num, uint(e))
	} else {
		den.Lsh(den, uint(-e))
	}
	return lowest(num, den)
}
