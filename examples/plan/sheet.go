package main

import (
	"fmt"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright"
	"github.com/slopewright/slopewright/materials"
)

const (
	measure = 96                 // columns of running text
	barrow  = 2 * unit.CubicFoot // less than a barrow takes up a slope goes by the shovel
	most    = 12                 // moves told one by one: a long path has dozens
)

// sheet is the plan as text, with the limits of its own that hold its digging back.
func sheet(r slopewright.Result, held ...string) string {
	var b strings.Builder
	title := r.Title
	if title == "" {
		title = "Stepped path"
	}
	heading(&b, strings.ToUpper(title), "=")
	for _, s := range r.Answer {
		paragraph(&b, "", s.Says)
	}
	for _, s := range held {
		paragraph(&b, "", s)
	}

	if len(r.Choices) > 0 {
		heading(&b, "To choose between", "-")
		for _, c := range r.Choices {
			paragraph(&b, "* ", c.Says)
		}
	}

	heading(&b, "The ground as measured", "-")
	for _, c := range r.Ground.Checks {
		mark := "ok   "
		if !c.OK {
			mark = "CHECK"
		}
		paragraph(&b, mark+" ", c.Says)
	}
	for _, n := range r.Ground.Notes {
		paragraph(&b, "      ", n)
	}

	heading(&b, "Stake-out: every mark from the datum, rounded once", "-")
	rows := [][]string{{"riser", "from foot", "from head", "top above foot", "top below head", "dig to, below head"}}
	for _, m := range r.StakeOut {
		rows = append(rows, []string{
			strconv.Itoa(m.Riser), m.Text.Station, m.Text.FromHead, m.Text.Level, m.Text.Drop, m.Text.DigTo,
		})
	}
	table(&b, rows, "rrrrrr")

	heading(&b, "The earth", "-")
	rows = nil
	for _, l := range r.Dig.Lines {
		rows = append(rows, []string{l.Name, l.Says, l.State})
	}
	table(&b, rows, "lrl")

	heading(&b, "Earth, step by step", "-")
	rows = [][]string{{"riser", "cut (bank)", "fill", "backfill", "deepest"}}
	cut, fill, backfill := r.StepVolumes()
	for i, s := range r.Dig.Steps {
		rows = append(rows, []string{strconv.Itoa(s.Riser), cut[i], fill[i], backfill[i], r.Length(s.Depth)})
	}
	rows = append(rows, []string{"all", r.Volume(r.Dig.CutBank), r.Volume(r.Dig.FillCompacted), r.Volume(r.Dig.BackfillCompacted), r.Length(r.Dig.Deepest.Depth)})
	table(&b, rows, "rrrrr")

	heading(&b, "Where it goes", "-")
	for _, s := range r.Dig.States {
		paragraph(&b, "  ", s.Says)
	}
	for _, says := range moves(r) {
		paragraph(&b, "* ", says)
	}
	for _, p := range r.Haul.Places {
		paragraph(&b, "  ", p.Says)
	}
	for _, l := range r.Dig.Loads {
		paragraph(&b, "  ", fmt.Sprintf("%d by %s, %s.", l.Count, l.Carrier, l.Full))
	}

	heading(&b, "To buy", "-")
	rows = [][]string{{"item", "need", "buy", "cost"}}
	for _, l := range r.Bill.Lines {
		cost := "no price"
		if l.Cost != nil {
			cost = coins(r, *l.Cost)
		}
		rows = append(rows, []string{l.Name, l.Need, l.Buy, cost})
	}
	if r.Bill.Tax.IsPositive() {
		rows = append(rows, []string{"subtotal", "", "", coins(r, r.Bill.Subtotal)}, []string{"tax", "", "", coins(r, r.Bill.Tax)})
	}
	total := "total, " + r.Bill.Currency
	if len(r.Bill.Unpriced) > 0 {
		total += ", without what has no price"
	}
	if len(r.Bill.Unpriced) == 0 || !r.Bill.Total.IsZero() {
		rows = append(rows, []string{total, "", "", coins(r, r.Bill.Total)})
	}
	table(&b, rows, "lllr")
	for _, l := range r.Bill.Lines {
		if l.Note != "" {
			paragraph(&b, "  ", l.Name+": "+l.Note+".")
		}
	}
	for _, n := range r.Bill.Notes {
		paragraph(&b, "  ", n)
	}
	paragraph(&b, "  ", "Need is in place: gravel tamped. Gravel is sold loose and is bought with waste.")
	paragraph(&b, "  ", "Rounding: "+r.Bill.Rounding+".")

	if c := r.Comparison; c != nil {
		heading(&b, "Beside "+c.Other, "-")
		paragraph(&b, "", c.Says)
		rows = [][]string{{"item", "buy", "cost", "other buys", "other cost", "more"}}
		cost := func(m *slopewright.Money, buy string) string {
			if m == nil && buy != "" {
				return "no price"
			} else if m == nil {
				return ""
			}
			return coins(r, *m)
		}
		for _, l := range c.Lines {
			rows = append(rows, []string{l.Name, l.Buy, cost(l.Cost, l.Buy), l.Other, cost(l.Costs, l.Other), l.More})
		}
		priced := [2]bool{}
		for _, l := range c.Lines {
			priced[0], priced[1] = priced[0] || l.Cost != nil, priced[1] || l.Costs != nil
		}
		if priced[0] && priced[1] { // else there is nothing to tell by
			rows = append(rows, []string{"tax", "", "", "", "", c.Tax}, []string{"total, " + c.Currency, "", "", "", "", c.More})
		}
		table(&b, rows, "llrlrr")
	}

	heading(&b, "Cut plan", "-")
	for _, x := range r.CutPlan.Boards {
		paragraph(&b, "  ", x.Says)
	}
	for _, n := range r.CutPlan.Notes {
		paragraph(&b, "  ", n)
	}
	for _, k := range r.CutPlan.Kept {
		paragraph(&b, "  ", "Worth keeping: "+k.Says+".")
	}

	if len(r.Notes) > 0 {
		heading(&b, "In making it", "-")
		for _, n := range r.Notes {
			where := ""
			if n.Where != "" {
				where = strings.ToUpper(n.Where[:1]) + n.Where[1:] + ": "
			}
			paragraph(&b, "* ", where+n.Says)
		}
	}

	heading(&b, "Time, in person-hours: likely (low to high)", "-")
	rows = nil
	hours := r.Hours.InTenths()
	for _, a := range append(hours.Work, slopewright.Activity{Name: "all", Low: hours.Low, Likely: hours.Likely, High: hours.High}) {
		rows = append(rows, []string{a.Name, fmt.Sprintf("%.1f", float64(a.Likely)), fmt.Sprintf("(%.1f to %.1f)", float64(a.Low), float64(a.High))})
	}
	table(&b, rows, "lrl")

	heading(&b, "In this order", "-")
	for _, x := range r.Order {
		paragraph(&b, fmt.Sprintf("%2d  ", x.Number), x.Says)
	}

	heading(&b, "Findings", "-")
	none := true
	for _, f := range r.Findings {
		if f.Severity == "caution" {
			continue
		}
		none = false
		says := f.Says
		if f.Where != "" {
			says = strings.ToUpper(f.Where[:1]) + f.Where[1:] + ": " + says
		}
		paragraph(&b, strings.ToUpper(f.Severity)+" ", says+" ["+reference(f)+"]")
	}
	if none {
		paragraph(&b, "", "No limit of the rule set is passed.")
	}

	heading(&b, "Cautions", "-")
	for _, f := range r.Findings {
		if f.Severity == "caution" {
			paragraph(&b, "* ", f.Says+" ["+f.Source+"]")
		}
	}
	return b.String()
}

// moves tells the largest moves in their order from the foot up, then the rest by
// where it goes, then all of it.
func moves(r slopewright.Result) []string {
	all := r.Haul.Moves
	bySize := make([]int, len(all))
	for i := range bySize {
		bySize[i] = i
	}
	sort.SliceStable(bySize, func(i, j int) bool { return all[bySize[i]].Loose > all[bySize[j]].Loose })
	told := map[int]bool{}
	for _, i := range bySize[:min(most, len(bySize))] {
		told[i] = all[i].Loose >= barrow
	}
	var says, ways []string
	rest, count := map[string]unit.Volume{}, map[string]int{}
	end := func(place string) string {
		if place == "" {
			return "other steps"
		}
		return "the " + place
	}
	for i, x := range all {
		if told[i] {
			says = append(says, x.Says)
			continue
		}
		way := "to " + end(x.ToPlace)
		if x.FromPlace != "" {
			way = "from " + end(x.FromPlace)
		}
		if count[way] == 0 {
			ways = append(ways, way)
		}
		rest[way] += x.Loose
		count[way]++
	}
	for _, way := range ways {
		noun := "moves"
		if count[way] == 1 {
			noun = "move"
		}
		says = append(says, fmt.Sprintf("%s loose in %d smaller %s %s.", r.SmallVolume(rest[way]), count[way], noun, way))
	}
	if len(all) > 1 {
		says = append(says, fmt.Sprintf("%s loose in all, in %d moves.", r.Volume(r.Haul.Moved), len(all)))
	}
	return says
}

// coins writes money with the decimals of its currency.
func coins(r slopewright.Result, m slopewright.Money) string {
	return m.StringFixed(materials.CoinDigits(r.Bill.Currency))
}

func reference(f slopewright.Finding) string {
	var parts []string
	for _, s := range []string{f.Clause, f.Source} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, "; ")
}

func heading(b *strings.Builder, text, line string) {
	if b.Len() > 0 {
		b.WriteString("\n")
	}
	b.WriteString(text + "\n" + strings.Repeat(line, utf8.RuneCountInString(text)) + "\n")
}

// paragraph writes running text, broken into lines, its later lines indented
// as far as the mark before the first.
func paragraph(b *strings.Builder, mark, text string) {
	indent := strings.Repeat(" ", utf8.RuneCountInString(mark))
	line := mark
	empty := true
	for _, word := range strings.Fields(text) {
		if !empty && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > measure {
			b.WriteString(line + "\n")
			line, empty = indent, true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	b.WriteString(line + "\n")
}

// table writes rows in columns, each aligned l or r.
func table(b *strings.Builder, rows [][]string, align string) {
	width := make([]int, len(align))
	for _, row := range rows {
		for i, cell := range row {
			if n := utf8.RuneCountInString(cell); n > width[i] {
				width[i] = n
			}
		}
	}
	for _, row := range rows {
		line := ""
		for i, cell := range row {
			pad := strings.Repeat(" ", width[i]-utf8.RuneCountInString(cell))
			if align[i] == 'r' {
				line += pad + cell
			} else {
				line += cell + pad
			}
			line += "  "
		}
		b.WriteString("  " + strings.TrimRight(line, " ") + "\n")
	}
}
