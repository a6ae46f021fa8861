package materials

import (
	"encoding/json"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"runtime"
	"testing"
	"time"

	"github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"
)

var (
	tradeFile  = flag.String("trade", "", "write the trade-like cutting problems, their plans and times to this file")
	tradeCases = flag.Int("trade-cases", 200, "how many trade-like cutting problems")
)

// tradeCase is the timber of a whole job: 4 to 10 sections, 20 to 200 pieces,
// each section with 3 to 6 priced lengths and pieces of at most 8. Lengths are
// in 1/16 in.
type tradeCase struct {
	Case     int            `json:"case"`
	Kerf     int64          `json:"kerf"`
	Sections []tradeSection `json:"sections"`
	// Cents is what the plan costs, Milliseconds the time for the whole of it.
	Cents        int64   `json:"cents"`
	Proven       bool    `json:"proven"`
	Milliseconds float64 `json:"ms"`
}

type tradeSection struct {
	Name  string       `json:"name"`
	Stock []tradeStock `json:"stock"`
	// Each piece is its length and how many.
	Pieces [][2]int64 `json:"pieces"`
	Cents  int64      `json:"cents"`
}

type tradeStock struct {
	Length int64 `json:"length"`
	Cents  int64 `json:"cents"`
}

var tradeNames = []string{"1x6", "1x8", "2x2", "2x4", "2x6", "2x8", "2x10", "2x12", "4x4", "4x6", "6x6", "6x8", "no4-bar"}

// newTradeCase makes one up. Prices are invented: so much a foot, a little
// uneven from length to length, half of them ending in 9.
func newTradeCase(n int) tradeCase {
	r := rand.New(rand.NewPCG(uint64(n), 2025))
	c := tradeCase{Case: n, Kerf: 2}
	names := append([]string(nil), tradeNames...)
	r.Shuffle(len(names), func(i, j int) { names[i], names[j] = names[j], names[i] })
	names = names[:4+r.IntN(7)]
	left := 20 + r.Int64N(181)
	for i, name := range names {
		s := tradeSection{Name: name}
		feet := []int64{8, 10, 12, 14, 16, 20}
		r.Shuffle(len(feet), func(i, j int) { feet[i], feet[j] = feet[j], feet[i] })
		rate := 80 + r.Int64N(400)
		for _, f := range feet[:3+r.IntN(4)] {
			cents := f * (rate + r.Int64N(rate/6))
			if r.IntN(2) == 0 {
				cents = cents/10*10 + 9
			}
			s.Stock = append(s.Stock, tradeStock{f * 192, cents})
		}
		mine := left / int64(len(names)-i)
		if i < len(names)-1 && mine > 4 {
			mine += r.Int64N(mine) - mine/2
		}
		left -= mine
		seen := map[int64]int{}
		for most := 2 + r.IntN(7); mine > 0; {
			l := 16*(12+r.Int64N(80)) + []int64{0, 0, 4, 8, 12, r.Int64N(16)}[r.IntN(6)]
			n := 1 + r.Int64N(8)
			if n > mine {
				n = mine
			}
			mine -= n
			if len(seen) == most {
				s.Pieces[r.IntN(most)][1] += n
				continue
			}
			if at, ok := seen[l]; ok {
				s.Pieces[at][1] += n
				continue
			}
			seen[l] = len(s.Pieces)
			s.Pieces = append(s.Pieces, [2]int64{l, n})
		}
		c.Sections = append(c.Sections, s)
	}
	return c
}

func (c tradeCase) input() (pieces []Piece, stock []Stock, o CutOptions) {
	sixteenths := func(n int64) unit.Length { return in(float64(n) / 16) }
	for _, s := range c.Sections {
		for _, x := range s.Stock {
			stock = append(stock, Stock{Section: s.Name, Length: sixteenths(x.Length), Price: decimal.New(x.Cents, -2)})
		}
		for i, x := range s.Pieces {
			pieces = append(pieces, Piece{Section: s.Name, Length: sixteenths(x[0]), Count: int(x[1]), Use: fmt.Sprint(i)})
		}
	}
	return pieces, stock, CutOptions{Kerf: sixteenths(c.Kerf)}
}

// Jobs of the trade are planned at proven least cost. With -trade the problems,
// the plans' costs and the times go to a file, for site/test/cutting.highs.mjs
// to compare with a general solver.
func TestTradeCases(t *testing.T) {
	var cases []tradeCase
	pieces, sections, worst := 0, 0, 0.0
	if *tradeFile != "" {
		for n := 0; n < 5; n++ { // warm up
			_, _ = Cut(newTradeCase(n).input())
		}
	}
	fewest := 0
	for n := 0; n < *tradeCases; n++ {
		c := newTradeCase(n)
		p, s, o := c.input()
		start := time.Now()
		plan, err := Cut(p, s, o)
		c.Milliseconds = float64(time.Since(start).Nanoseconds()) / 1e6
		if err != nil {
			t.Fatalf("case %d: %v", n, err)
		}
		checkPlan(t, p, s, o, plan)
		if !plan.Proven || len(plan.Groups) != len(c.Sections) {
			t.Errorf("case %d: not proven: %+v", n, plan.Groups)
		}
		c.Proven, c.Cents = plan.Proven, plan.Cost.Shift(2).IntPart()
		for _, g := range plan.Groups {
			for i := range c.Sections {
				if c.Sections[i].Name == g.Section {
					c.Sections[i].Cents = g.Cost.Shift(2).IntPart()
				}
			}
			sections++
			if g.FewestPatterns {
				fewest++
			}
		}
		for _, x := range p {
			pieces += x.Count
		}
		if c.Milliseconds > worst {
			worst = c.Milliseconds
		}
		cases = append(cases, c)
	}
	t.Logf("%d cases, %d sections, %d pieces; the slowest took %.2f ms; fewest patterns proven in %d sections", len(cases), sections, pieces, worst, fewest)
	if *tradeFile == "" {
		return
	}
	data, err := json.Marshal(struct {
		GOOS  string      `json:"goos"`
		Arch  string      `json:"goarch"`
		Cases []tradeCase `json:"cases"`
	}{runtime.GOOS, runtime.GOARCH, cases})
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(*tradeFile, data, 0o644); err != nil {
		t.Fatal(err)
	}
}

func BenchmarkTradeCases(b *testing.B) {
	var cases []tradeCase
	for n := 0; n < 200; n++ {
		cases = append(cases, newTradeCase(n))
	}
	b.ResetTimer()
	for i := 0; i < b.N; i++ {
		if _, err := Cut(cases[i%len(cases)].input()); err != nil {
			b.Fatal(err)
		}
	}
}
