package sheet

import (
	"strconv"
	"strings"
)

func itoa(n int) string { return strconv.Itoa(n) }

func mm(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) + "mm" }

// style is the style of a document. Everything is black on white: a copier must
// carry it, and rain. PageOf is what page 8 of 9 says of itself.
func style(p Paper, footer, pageOf string) string {
	before, rest, _ := strings.Cut(pageOf, "8")
	between, _, _ := strings.Cut(rest, "9")
	page := "margin: " + mm(head) + " " + mm(side) + " " + mm(foot) + ";\n" +
		"  @bottom-left { content: \"" + footer + "\"; font: 8pt sans-serif; }\n" +
		"  @bottom-right { content: \"" + before + "\" counter(page) \"" + between + "\" counter(pages); font: 8pt sans-serif; }\n"
	wide, _ := p.Room()
	return "@page { size: " + p.Name + ";\n  " + page + "}\n" +
		"@page across { size: " + p.Name + " landscape;\n  " + page + "}\n" +
		"@media screen { main { max-width: " + mm(wide+8) + "; margin: 0 auto; } }\n" +
		"main { padding: 0 " + mm(hem) + "; }\n" + rules
}

const rules = `* { box-sizing: border-box; }
html { background: #fff; color: #000; }
body { margin: 0; font: 10pt/1.38 "Segoe UI", "Helvetica Neue", Helvetica, Arial, sans-serif; overflow-wrap: anywhere; }
@media screen { body { padding: 6mm 0; } .part { border-bottom: 1px solid #bbb; padding-bottom: 8mm; margin-bottom: 8mm; } }
h1 { font-size: 21pt; line-height: 1.15; margin: 0 0 1.5mm; max-height: 4.6em; overflow: hidden; }
h2 { font-size: 14pt; line-height: 1.2; margin: 0 0 2.5mm; border-bottom: 1.2pt solid #000; padding-bottom: 0.8mm; }
h3 { font-size: 10.5pt; line-height: 1.25; margin: 4mm 0 1.2mm; }
h1, h2, h3 { break-after: avoid; break-inside: avoid; }
h2 + p { break-after: avoid; break-inside: avoid; }
p { margin: 0 0 2mm; orphans: 3; widows: 3; }
.over { text-transform: uppercase; letter-spacing: 0.08em; font-size: 8.5pt; margin-bottom: 0.5mm; }
.under, .small, .source { font-size: 8.5pt; }
.source { color: #333; }
.source::before { content: "["; } .source::after { content: "]"; }
header { margin-bottom: 3.5mm; }
.part { margin: 0 0 6mm; }
.part:not(.across) { overflow-x: clip; margin-left: -0.5mm; margin-right: -0.5mm; padding: 0 0.5mm; }
@media print { .new { break-before: page; } .across { page: across; } .whole { break-inside: avoid; } }
figure { margin: 0 0 3mm; break-inside: avoid; }
figure svg { max-width: 100%; height: auto; display: block; }
ul, ol { margin: 0 0 2.5mm; padding-left: 6mm; }
ol { padding-left: 8mm; }
li { margin-bottom: 1.2mm; break-inside: avoid; }
h2 + ul > li:nth-child(-n+2):not(:last-child), h3 + ul > li:nth-child(-n+2):not(:last-child), h3 + ol > li:nth-child(-n+2):not(:last-child) { break-after: avoid; }
.checks { list-style: none; padding-left: 0; }
li::marker { font-weight: bold; }
ul.checks > li { position: relative; padding-left: 6.5mm; }
ul.checks > li::before { content: ""; position: absolute; left: 0; top: 0.6mm; }
.tick, ul.checks > li::before { display: inline-block; width: 3.4mm; height: 3.4mm; border: 0.9pt solid #000; vertical-align: -0.4mm; }
.facts { display: grid; grid-template-columns: repeat(4, 1fr); gap: 1.6mm; margin: 0 0 4mm; }
.facts div { border: 0.7pt solid #000; padding: 1.3mm 1.8mm; break-inside: avoid; }
.facts dt { font-size: 8pt; }
.facts dd { margin: 0; font-size: 10.5pt; font-weight: bold; line-height: 1.2; }
table { border-collapse: collapse; width: 100%; margin: 0 0 3mm; font-size: 9pt; font-variant-numeric: tabular-nums; }
td { overflow-wrap: break-word; }
thead th { overflow-wrap: normal; }
.keep { break-inside: avoid; }
thead { display: table-header-group; }
tr { break-inside: avoid; }
tbody tr:nth-last-child(-n+2) { break-before: avoid; }
tbody tr:nth-child(-n+3):not(:last-child) { break-after: avoid; }
th, td { border-bottom: 0.5pt solid #777; padding: 0.9mm 1.4mm; text-align: left; vertical-align: top; }
thead th { border-bottom: 1pt solid #000; font-size: 8.2pt; line-height: 1.2; vertical-align: bottom; }
.n { text-align: right; white-space: nowrap; }
th.n { white-space: normal; }
.w { white-space: nowrap; }
.box { width: 6mm; }
.write { min-width: 15mm; border-left: 0.5pt solid #777; border-right: 0.5pt solid #777; }
table.tight { font-size: 8.2pt; }
.tight th, .tight td { padding-top: 0.35mm; padding-bottom: 0.35mm; }
.stake { font-size: 8.1pt; }
.stake th, .stake td { padding-left: 0.9mm; padding-right: 0.9mm; }
.stake th.n { width: 12%; }
.stake thead th, .book thead th { font-size: 7.4pt; }
.stake td.n + td.n, .stake th.n + th.n, .book td.n + td.n { border-left: 0.4pt solid #999; }
.stake th.write { padding-left: 0.5mm; padding-right: 0.3mm; }
.stake .write { min-width: 11mm; }
.stake td { padding-top: 1.35mm; padding-bottom: 1.35mm; }
.close td { padding-top: 0.85mm; padding-bottom: 0.85mm; }
.long { font-size: 7.4pt; }
.long thead th { font-size: 6.8pt; }
.stake.long th, .stake.long td { padding-left: 0.7mm; padding-right: 0.7mm; }
.long .write { min-width: 13mm; }
.stake thead th:nth-child(2) { width: 5%; padding-left: 0; font-size: 6.4pt; }
.stake.long thead th:nth-child(2) { font-size: 6pt; }
.stake tbody tr:nth-child(5n) td { border-bottom: 1.1pt solid #000; }
.book { font-size: 8.1pt; }
.book th, .book td { padding-left: 0.5mm; padding-right: 0.6mm; }
.book th.n { width: 6%; }
.group { break-after: avoid; }
.group th { padding-top: 2.6mm; border-bottom: 0.9pt solid #000; font-size: 9.5pt; }
.sum td { font-weight: bold; border-top: 0.9pt solid #000; }
.note { border: 1.1pt solid #000; padding: 2mm 3mm 1mm; margin: 0 0 3.5mm; break-inside: avoid; }
.note h3 { margin-top: 0; }
.brief { font-size: 8pt; line-height: 1.25; }
.brief h3 { font-size: 9pt; }
.brief li { margin-bottom: 0.4mm; }
.cards { display: grid; grid-template-columns: 1fr 1fr; gap: 2.6mm; align-items: start; }
.cards article { border: 0.9pt solid #000; padding: 1.2mm 1.8mm 1mm; break-inside: avoid; font-size: 8.4pt; line-height: 1.24; }
.cards h3 { margin: 0 0 0.8mm; border-bottom: 0.6pt solid #000; padding-bottom: 0.6mm; }
.cards h3 small { font-weight: normal; font-size: 8.6pt; }
.cards h3 > .tick { float: right; }
.cards dl { display: grid; grid-template-columns: minmax(14mm, max-content) 1fr; column-gap: 1mm; margin: 0 0 0.8mm; }
.cards dt { font-weight: bold; } .cards dd { margin: 0; }
.cards p { display: inline; } .cards .blank { min-width: 56mm; }
.check { display: inline-block; margin-right: 2mm; }
.check .tick { width: 2.8mm; height: 2.8mm; vertical-align: -0.3mm; }
.blank { display: inline-block; border-bottom: 0.6pt solid #000; min-width: 38mm; margin-right: 3mm; padding-top: 1.6mm; }
.sign .blank { min-width: 76mm; padding-top: 12mm; border-bottom: 0; border-top: 0; position: relative; }
.sign .blank::before { content: ""; position: absolute; left: 0; right: 6mm; top: 11mm; border-top: 0.6pt solid #000; }
.sign { break-before: avoid; break-inside: avoid; }
@media screen and (max-width: 620px) { .facts { grid-template-columns: 1fr 1fr; } .cards { grid-template-columns: 1fr; } table:not(.stake, .book) .n { white-space: normal; } .part, .part:not(.across) { overflow-x: auto; } }
`
