// Package sheet writes printable documents: HTML with its own style for print,
// no script and nothing from outside. It knows paper and pages; what stands on
// them is the caller's.
package sheet

import (
	"strings"
	"unicode/utf8"

	"github.com/slopewright/slopewright/internal/draw"
)

// Paper is a size of paper, in millimetres, upright.
type Paper struct {
	Name       string // as CSS knows it
	Wide, Tall float64
}

// The papers: ISO 216 A4, and Letter, 8 1/2 by 11 in (ANSI/ASME Y14.1, size A).
var (
	a4     = Paper{"A4", 210, 297}
	letter = Paper{"letter", 215.9, 279.4}
)

// PaperByName gives a4 or letter.
func PaperByName(name string) (Paper, bool) {
	switch name {
	case "a4":
		return a4, true
	case "letter":
		return letter, true
	}
	return Paper{}, false
}

// Margins of a page in millimetres: what office printers and hands need.
const (
	side = 14.0
	head = 13.0
	foot = 16.0
	// hem keeps borders at the edge from being cut off.
	hem = 0.5
)

// Room is what is printed on of an upright page, in millimetres.
func (p Paper) Room() (wide, tall float64) { return p.Wide - 2*(side+hem), p.Tall - head - foot }

// RoomAcross is that of a page on its side.
func (p Paper) RoomAcross() (wide, tall float64) { return p.Tall - 2*(side+hem), p.Wide - head - foot }

// Text makes a line of user text safe and keeps its direction to itself: at
// most 400 characters.
func Text(s string) string { return "<bdi>" + breakable(draw.Text(s, 400)) + "</bdi>" }

// LongText is Text of at most 6000 characters.
func LongText(s string) string { return "<bdi>" + breakable(draw.Text(s, 6000)) + "</bdi>" }

// breakable lets a word break that is longer than a column is wide: a browser
// prints everything smaller, what is to scale too, where one thing is too wide.
func breakable(s string) string {
	const longest, part = 32, 16
	var b strings.Builder
	words := strings.Split(s, " ")
	for i, word := range words {
		switch {
		case i == 0:
		case measure(words[i-1], word):
			b.WriteString("\u00a0")
		default:
			b.WriteByte(' ')
		}
		// An entity is one character.
		n, inside := 0, false
		for _, c := range word {
			if inside = c == '&' || inside && c != ';'; !inside {
				n++
			}
		}
		if n <= longest {
			b.WriteString(word)
			continue
		}
		n = 0
		for _, c := range word {
			if n == part && !inside {
				b.WriteString("<wbr>")
				n = 0
			}
			b.WriteRune(c)
			if inside = c == '&' || inside && c != ';'; !inside {
				n++
			}
		}
	}
	return b.String()
}

const units = " mm m m² m³ ft ft² ft³ in yd yd³ cu sq kg t lb l gal h ° % "

// measure is true for two words beside each other that are of one measure, such
// as 8 5/16 in: it stands on one line.
func measure(before, after string) bool {
	after = strings.TrimRight(after, ".,;:)")
	if before == "" || after == "" {
		return false
	}
	digit := func(c byte) bool { return '0' <= c && c <= '9' }
	if !digit(before[len(before)-1]) {
		return before == "ft" && digit(after[0]) // 10 ft 8
	}
	return strings.Contains(units, " "+after+" ") || digit(after[0]) && strings.Contains(after, "/")
}

// Doc is a document being written. What is said of text in its methods is text
// that will be made safe; HTML goes in through Raw only.
type Doc struct {
	b     strings.Builder
	paper Paper
	open  bool
	in    Tongue
}

// Tongue is the language of a document: its tag (BCP 47), and what says a text
// in it.
type Tongue struct {
	Tag string
	Say func(string) string
}

// Kept begins a text that is not said in the language: it is in it already, or
// stands as somebody typed it.
const Kept = "\x00"

func (d *Doc) say(s string) string {
	if kept, ok := strings.CutPrefix(s, Kept); ok || d.in.Say == nil {
		return kept
	}
	return d.in.Say(s)
}

func (d *Doc) plain(s string, n int) string { return draw.Text(d.say(s), n) }
func (d *Doc) text(s string) string         { return Text(d.say(s)) }
func (d *Doc) long(s string) string         { return LongText(d.say(s)) }

// New begins a document: its title, and what stands at the foot of each page
// (of fixed words only: it is not made safe).
func New(title, footer string, paper Paper, in Tongue) *Doc {
	d := &Doc{paper: paper, in: in}
	tag := in.Tag
	if tag == "" {
		tag = "en"
	}
	d.b.WriteString("<!doctype html>\n<html lang=\"" + tag + "\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<meta name=\"referrer\" content=\"no-referrer\">\n")
	d.b.WriteString("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n")
	d.b.WriteString("<title>" + d.plain(title, 200) + "</title>\n<style>\n" + style(paper, d.say(footer), d.say("Page 8 of 9")) + "</style>\n</head>\n<body>\n<main>\n")
	return d
}

// Part begins a part with its heading: on a new page, or where there is room.
// An empty heading is none.
func (d *Doc) Part(heading string, newPage, across bool) {
	class := "part"
	if newPage {
		class += " new"
	}
	if across {
		class += " across"
	}
	d.part(heading, class)
}

// Whole begins a part that stands on one page: where there is room for all of
// it, or else on a new page. One that is longer than a page begins a new one.
func (d *Doc) Whole(heading string) { d.part(heading, "part whole") }

func (d *Doc) part(heading, class string) {
	d.end()
	d.b.WriteString(`<section class="` + class + "\">\n")
	d.open = true
	if heading != "" {
		d.b.WriteString("<h2>" + d.plain(heading, 200) + "</h2>\n")
	}
}

func (d *Doc) end() {
	if d.open {
		d.b.WriteString("</section>\n")
		d.open = false
	}
}

// Raw puts ready HTML in.
func (d *Doc) Raw(html string) { d.b.WriteString(html) }

// Title is the heading of the document.
func (d *Doc) Title(over, title, under string) {
	d.b.WriteString(`<header><p class="over">` + d.plain(over, 200) + "</p>\n<h1>" + d.text(title) + "</h1>\n")
	if under != "" {
		d.b.WriteString(`<p class="under">` + d.long(under) + "</p>\n")
	}
	d.b.WriteString("</header>\n")
}

// Heading is one below that of a part.
func (d *Doc) Heading(text string) { d.b.WriteString("<h3>" + d.plain(text, 200) + "</h3>\n") }

// Paragraph is running text.
func (d *Doc) Paragraph(text string) { d.b.WriteString("<p>" + d.long(text) + "</p>\n") }

// Small is running text in small print.
func (d *Doc) Small(text string) { d.b.WriteString(`<p class="small">` + d.long(text) + "</p>\n") }

// Figure is a drawing that stays on one page.
func (d *Doc) Figure(svg string) {
	if svg != "" {
		d.b.WriteString("<figure>\n" + svg + "</figure>\n")
	}
}

// Item is one entry of a list: a lead in bold, what it says, and where that is
// from.
type Item struct{ Lead, Says, Source string }

// List is a numbered list, one with boxes to check, or one with dots.
func (d *Doc) List(kind string, items []Item) {
	tag := "ul"
	if kind == "steps" {
		tag = "ol"
	}
	d.b.WriteString("<" + tag + ` class="` + kind + "\">\n")
	for _, i := range items {
		d.b.WriteString("<li>")
		if i.Lead != "" {
			d.b.WriteString("<strong>" + d.plain(i.Lead, 200) + "</strong> ")
		}
		d.b.WriteString(d.long(i.Says))
		if i.Source != "" {
			d.b.WriteString(` <span class="source">` + d.plain(i.Source, 400) + "</span>")
		}
		d.b.WriteString("</li>\n")
	}
	d.b.WriteString("</" + tag + ">\n")
}

// Column is one column of a table: its heading and how it is set.
type Column struct {
	Head string
	// Set is "" for text, "n" for figures (to the right), "w" for a
	// few words on one line, "box" for a box to
	// check and "write" for room to write in.
	Set string
}

// Table is a table; its headings come again on each page. A row of one cell is
// a heading across; a row whose first cell begins with = is a sum.
func (d *Doc) Table(class string, columns []Column, rows [][]string) {
	d.b.WriteString(`<table class="` + class + "\">\n<thead><tr>")
	for _, c := range columns {
		d.b.WriteString(`<th scope="col"` + set(c.Set) + ">" + d.plain(c.Head, 80) + "</th>")
	}
	d.b.WriteString("</tr></thead>\n<tbody>\n")
	for _, row := range rows {
		if len(row) == 1 && len(columns) > 1 {
			d.b.WriteString(`<tr class="group"><th colspan="` + itoa(len(columns)) + `" scope="colgroup">` + d.text(row[0]) + "</th></tr>\n")
			continue
		}
		sum := len(row) > 0 && strings.HasPrefix(row[0], "=")
		if sum {
			d.b.WriteString(`<tr class="sum">`)
		} else {
			d.b.WriteString("<tr>")
		}
		for i, c := range columns {
			cell := ""
			if i < len(row) {
				cell = row[i]
			}
			if i == 0 {
				cell = strings.TrimPrefix(cell, "=")
			}
			if c.Set == "box" && !sum {
				d.b.WriteString(`<td class="box"><span class="tick"></span></td>`)
				continue
			}
			cell = d.say(cell)
			how := c.Set
			if how == "w" && utf8.RuneCountInString(cell) > 36 {
				how = "" // no few words
			}
			d.b.WriteString("<td" + set(how) + ">")
			if cell != "" {
				d.b.WriteString(Text(cell))
			}
			d.b.WriteString("</td>")
		}
		d.b.WriteString("</tr>\n")
	}
	d.b.WriteString("</tbody>\n</table>\n")
}

func set(s string) string {
	if s == "" {
		return ""
	}
	return ` class="` + s + `"`
}

// Facts are a few figures to see at a glance.
func (d *Doc) Facts(pairs [][2]string) {
	d.b.WriteString("<dl class=\"facts\">\n")
	for _, p := range pairs {
		d.b.WriteString("<div><dt>" + d.plain(p[0], 80) + "</dt><dd>" + d.text(p[1]) + "</dd></div>\n")
	}
	d.b.WriteString("</dl>\n")
}

// Card is what is wanted at one place of the work.
type Card struct {
	Head, Kind string
	Lines      [][2]string
	// Checks have a box each; Write are blanks to fill in.
	Checks, Write []string
}

// Cards sets cards in two columns, each whole on its page.
func (d *Doc) Cards(cards []Card) {
	d.b.WriteString("<div class=\"cards\">\n")
	for _, c := range cards {
		d.b.WriteString("<article><h3>" + d.plain(c.Head, 80) + " <small>" + d.plain(c.Kind, 120) + `</small> <span class="tick"></span></h3>` + "\n<dl>\n")
		for _, l := range c.Lines {
			d.b.WriteString("<dt>" + d.plain(l[0], 60) + "</dt><dd>" + d.text(l[1]) + "</dd>\n")
		}
		d.b.WriteString("</dl>\n<p class=\"checks\">")
		for _, s := range c.Checks {
			d.b.WriteString(`<span class="check"><span class="tick"></span> ` + d.plain(s, 120) + "</span> ")
		}
		d.b.WriteString("</p>\n<p class=\"blanks\">")
		for _, s := range c.Write {
			d.b.WriteString(`<span class="blank">` + d.plain(s, 60) + "</span> ")
		}
		d.b.WriteString("</p></article>\n")
	}
	d.b.WriteString("</div>\n")
}

// Blanks are lines to sign or write on.
func (d *Doc) Blanks(words ...string) {
	d.b.WriteString("<p class=\"sign\">")
	for _, s := range words {
		d.b.WriteString(`<span class="blank">` + d.plain(s, 60) + "</span> ")
	}
	d.b.WriteString("</p>\n")
}

// Bytes ends the document.
func (d *Doc) Bytes() []byte {
	d.end()
	d.b.WriteString("</main>\n</body>\n</html>\n")
	return []byte(d.b.String())
}
