package tape

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

// Ratios do what big.Rat does.
func TestRatio(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 25))
	rat := func(a ratio) *big.Rat { return new(big.Rat).SetFrac(a.num, a.den) }
	random := func() ratio {
		switch r.IntN(3) {
		case 0:
			return exactly(math.Ldexp(r.Float64()-0.5, r.IntN(80)-40))
		case 1:
			text := ""
			for range 1 + r.IntN(30) {
				text += string(rune('0' + r.IntN(10)))
			}
			if n := r.IntN(len(text)); n > 0 {
				text = text[:n] + "." + text[n:]
			}
			got := decimals(text)
			if want, _ := new(big.Rat).SetString(text); rat(got).Cmp(want) != 0 {
				t.Fatalf("%s is %v", text, got)
			}
			return got
		}
		return ratioOf(r.Int64N(2000)-1000, 1+r.Int64N(5000))
	}
	for range 20000 {
		a, b := random(), random()
		x, y := rat(a), rat(b)
		if x.Num().Cmp(a.num) != 0 || x.Denom().Cmp(a.den) != 0 {
			t.Fatalf("%v is not in lowest terms", a)
		}
		same := func(what string, got ratio, want *big.Rat) {
			if rat(got).Cmp(want) != 0 || got.String() != want.String() {
				t.Fatalf("%v %s %v is %v, want %v", a, what, b, got, want)
			}
		}
		same("+", a.plus(b), new(big.Rat).Add(x, y))
		same("-", a.minus(b), new(big.Rat).Sub(x, y))
		same("*", a.times(b), new(big.Rat).Mul(x, y))
		if b.sign() != 0 {
			same("/", a.over(b), new(big.Rat).Quo(x, y))
		}
		if a.cmp(b) != x.Cmp(y) || a.isWhole() != x.IsInt() || a.sign() != x.Sign() {
			t.Fatalf("%v and %v compare otherwise", a, b)
		}
		if f, _ := x.Float64(); f != a.float() {
			t.Fatalf("%v is %v, want %v", a, a.float(), f)
		}
		if got, want := a.millionths(), x.FloatString(6); got != want && !(x.Sign() < 0 && got == want[1:]) {
			t.Fatalf("%v is %s, want %s", a, got, want)
		}
		// Halfway between two floats, and a hair beside it.
		f := math.Abs(a.float())
		if f == 0 {
			continue
		}
		half := exactly(f).plus(exactly(math.Nextafter(f, math.Inf(1)))).over(ratioOf(2, 1))
		for _, h := range []ratio{half, half.plus(ratioOf(1, 1<<62).times(ratioOf(1, 1<<62)).times(ratioOf(1, 1<<62))), half.minus(ratioOf(1, 1<<62).times(ratioOf(1, 1<<62)).times(ratioOf(1, 1<<62)))} {
			if want, _ := rat(h).Float64(); want != h.float() {
				t.Fatalf("%v is %v, want %v", h, h.float(), want)
			}
		}
	}
}
