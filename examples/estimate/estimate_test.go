package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/parser"
	"go/token"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"testing/iotest"
	"time"
)

// counted is an invented job whose answer TestCounted counts by hand.
const counted = `{"id": 7, "rise": 0.75, "run": 2, "width": 1.2, "rules": "own",
	"limits": {"riser_min": 0.14, "riser_max": 0.16, "landing_min": 0, "wash": 0},
	"timber": "100x200", "stock": [{"section": "100x200", "length": 2.4, "price": "20.00"}],
	"currency": "GBP", "tax": "0.2",
	"prices": [{"item": "pin", "price": "3", "per": "each"}, {"item": "fabric", "price": "2.00", "per": "m2"}]}`

// told is an answer as a reader of the output sees it.
type told struct {
	Line    int
	ID      json.RawMessage
	Risers  int
	Riser   float64
	Treads  int
	Flights []struct {
		First, Risers int
		Tread         float64
	}
	Landings []any
	Dig      float64
	Pieces   []struct {
		Use    string
		Length float64
		Count  int
	}
	Boards []struct {
		Count  int
		Pieces []struct{ Count int }
	}
	Cut struct {
		Cost, Bound string
		Proven      bool
	}
	Bill struct {
		Currency, Subtotal, Tax, Total string
		Lines                          []struct{ Item, Buy, Cost string }
		Unpriced                       []string
	}
	Findings []any
	Faults   []struct{ Field, Got, Problem, Fix string }
}

// answers runs the program over an input.
func answers(t *testing.T, input string, args ...string) []told {
	t.Helper()
	var out, messages bytes.Buffer
	if code := run(args, strings.NewReader(input), &out, &messages); code != 0 {
		t.Fatalf("exits with %d: %s", code, &messages)
	}
	var list []told
	for l := range strings.Lines(out.String()) {
		var a told
		if err := json.Unmarshal([]byte(l), &a); err != nil {
			t.Fatalf("%v: %.200s", err, l)
		}
		list = append(list, a)
	}
	return list
}

// oneLine is a job as a line of the input.
func oneLine(job string) string {
	var b bytes.Buffer
	if err := json.Compact(&b, []byte(job)); err != nil {
		panic(err)
	}
	return b.String() + "\n"
}

func TestCounted(t *testing.T) {
	a := answers(t, oneLine(counted))[0]
	// Of risers from 0.14 to 0.16 m only 0.75 / 5 = 0.15 will do, and without
	// landings that leaves one flight: 4 treads of 2 / 4 = 0.5.
	if a.Risers != 5 || a.Riser != 0.15 || a.Treads != 4 || len(a.Flights) != 1 || a.Flights[0].Tread != 0.5 || len(a.Landings) != 0 {
		t.Errorf("risers %d of %g, flights %v, landings %v", a.Risers, a.Riser, a.Flights, a.Landings)
	}
	// On a straight slope an even flight's treads stand as much above the ground
	// as below it. The bed lies 1 + 3 + 4 in under them, 0.2032 m, more than a
	// riser, so that it is below ground everywhere: 0.2032 × 2 × 1.2 = 0.48768.
	if a.Dig != 0.4877 {
		t.Errorf("digs %g m³, want 0.4877", a.Dig)
	}
	// A riser of 0.15 takes 2 courses of 0.1 (one and 25 mm of bedding are too
	// little) and is buried by 50 mm. Riser timbers: 5 × 2 of 1.2. Sides of
	// boxes 1 to 4 stop at the next riser: 0.5 − 0.2 = 0.3, two in 2 courses,
	// 16 in all. Those of the last run 24 in, 0.6096, into the bank: 4.
	pieces := map[string]int{}
	for _, p := range a.Pieces {
		pieces[fmt.Sprint(p.Use, " ", p.Length)] += p.Count
	}
	for name, n := range map[string]int{"riser-timber 1.2": 10, "side-timber 0.3": 16, "side-timber 0.6096": 4} {
		if pieces[name] != n {
			t.Errorf("%d of %s, want %d: %v", pieces[name], name, n, pieces)
		}
	}
	// Two riser timbers and a kerf are more than 2.4 m, so that it takes 10
	// boards at least; and 10 will do: 4 with a long side and a short one beside
	// the riser timber, 6 with two short ones. 10 × 20.00.
	boards := 0
	for _, b := range a.Boards {
		boards += b.Count
	}
	if boards != 10 || a.Cut.Cost != "200.00" || a.Cut.Bound != "200.00" || !a.Cut.Proven {
		t.Errorf("%d boards, %+v", boards, a.Cut)
	}
	// Pins: 2 in a riser timber and 2 in each of two sides, 6 a box, 30; with
	// 5 % more 31.5, so 32 at 3.00 is 96.00. Fabric: 1.2 wide, each box and 12 in
	// more, the last box 0.2 + 0.6096 deep: 1.2 × (4 × 0.8048 + 1.1144) =
	// 5.20032 m², with 5 % more 5.460336, bought as 5.47 at 2.00: 10.94.
	// 200 + 96 + 10.94 = 306.94, a fifth of it 61.388, in all 368.33.
	costs := map[string]string{}
	for _, l := range a.Bill.Lines {
		costs[l.Item] = l.Buy + " " + l.Cost
	}
	if costs["board"] != "10 200.00" || costs["pin"] != "32 96.00" || costs["fabric"] != "5.47 10.94" {
		t.Errorf("lines %v", costs)
	}
	if b := a.Bill; b.Currency != "GBP" || b.Subtotal != "306.94" || b.Tax != "61.39" || b.Total != "368.33" {
		t.Errorf("bill %+v", b)
	}
	if got := fmt.Sprint(a.Bill.Unpriced); got != "[structural-screw base-gravel fill-gravel topping preservative]" {
		t.Errorf("unpriced are %s", got)
	}
}

// many are n jobs of sizes that differ, so that some take longer than others;
// every tenth is no job.
func many(n int) string {
	var b strings.Builder
	for i := range n {
		if i%10 == 9 {
			fmt.Fprintf(&b, "{\"id\": %d, \"rise\": -1}\n", i)
			continue
		}
		rise := 0.6 + 0.15*float64(i%7)
		job := strings.Replace(counted, `"id": 7, "rise": 0.75, "run": 2,`, fmt.Sprintf(`"id": %d, "rise": %g, "run": %g,`, i, rise, 3*rise), 1)
		if i%3 == 0 {
			job = strings.Replace(job, `"landing_min": 0, `, "", 1)
		}
		b.WriteString(oneLine(job))
	}
	return b.String()
}

func TestOrder(t *testing.T) {
	input := many(1000)
	list := answers(t, input, "-workers", strconv.Itoa(max(4, runtime.NumCPU())))
	if len(list) != 1000 {
		t.Fatalf("%d answers to 1000 jobs", len(list))
	}
	for i, a := range list {
		if a.Line != i+1 || string(a.ID) != strconv.Itoa(i) {
			t.Fatalf("answer %d is to line %d, job %s", i+1, a.Line, a.ID)
		}
		if bad := i%10 == 9; bad != (len(a.Faults) > 0) || bad != (a.Bill.Total == "") {
			t.Fatalf("job %d: faults %v, total %q", i, a.Faults, a.Bill.Total)
		}
	}
	var one, all bytes.Buffer
	run([]string{"-workers", "1"}, strings.NewReader(input), &one, io.Discard)
	run([]string{"-workers", "8"}, strings.NewReader(input), &all, io.Discard)
	if !bytes.Equal(one.Bytes(), all.Bytes()) {
		t.Error("eight workers answer otherwise than one")
	}
}

// What will not do is answered with all that is wrong, and the rest go on.
func TestFaults(t *testing.T) {
	good := oneLine(counted)
	edit := func(pairs ...string) string { return strings.NewReplacer(pairs...).Replace(good) }
	for _, c := range []struct{ line, fields string }{
		{"not a job\n", ""},
		{"[1]\n", ""},
		{"null\n", ""},
		{`{"id": {}}` + "\n", "id rise run width rules timber stock currency"},
		{edit(`"rise":0.75`, `"rise":"0.75"`, `"own"`, `"mine"`, `"GBP"`, `"pounds"`, `"run"`, `"runs"`), "rise run rules runs currency"},
		{edit(`"riser_min":0.14`, `"riser_min":0.17`, `"20.00"`, `"-1"`), "limits.riser_max stock[0].price"},
		{edit(`"rise":0.75`, `"rise":5`), "limits.tread_min"},
		{edit(`"width":1.2`, `"width":2.6`), "stock"},
		{edit(`"width":1.2`, `"width":0.3`), "width"},
		{edit(`"length":2.4`, `"length":1.25`, `"timber":"100x200"`, `"timber":"6x6"`), "stock"},
		{edit(`"price":"20.00"`, `"price":20`, `"pin"`, `"pins"`), "stock[0].price prices[0].item"},
		{edit(`"price":"3"`, `"price":"1e999999999"`, `"per":"m2"`, `"per":"mile"`), "prices[0].price prices[1].per"},
		{edit(`"price":"3"`, `"price":"`+strings.Repeat("7", 1000)+`"`), "prices[0].price"},
		{edit(`"wash":0`, `"wash":0,"max_flight_risers":2.5`), "limits.max_flight_risers"},
		{edit(`"timber"`, `"max_cut":0.05,"timber"`), "max_cut max_cut"},
		{`{"id": "` + strings.Repeat("x", maxLine) + "\"}\n", ""},
		{`{"id":` + strings.Repeat("[", maxLine/2) + "\n", ""},
	} {
		list := answers(t, c.line+good)
		if len(list) != 2 || list[1].Bill.Total != "368.33" || list[1].Line != 2 {
			t.Errorf("%.60s: the job after it is answered with %+v", c.line, list[1:])
			continue
		}
		var fields []string
		for _, f := range list[0].Faults {
			fields = append(fields, f.Field)
			if f.Problem == "" || f.Fix == "" {
				t.Errorf("%.60s: %+v says too little", c.line, f)
			}
		}
		if got := list[0].Faults[0].Got; strings.Contains(got, "many digits") {
			t.Errorf("%.60s: what it got is told as %s", c.line, got)
		}
		if got := strings.Join(fields, " "); got != c.fields || len(fields) == 0 {
			t.Errorf("%.60s: faults in %q, want %q\n%v", c.line, got, c.fields, list[0].Faults)
		}
	}
}

// A price of so many figures takes no longer than reading the line does.
func BenchmarkLongDecimal(b *testing.B) {
	for _, n := range []int{1e4, 1e5, 1e6} {
		line := line{text: []byte(strings.Replace(oneLine(counted), `"price":"3"`, `"price":"`+strings.Repeat("7", n)+`"`, 1))}
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			for b.Loop() {
				line.answered()
			}
		})
	}
}

// The last line needs no end, lines may end as on Windows, and no input has no
// answer; blank lines have none either, but are counted.
func TestLines(t *testing.T) {
	good := strings.TrimSpace(oneLine(counted))
	for input, n := range map[string]int{"": 0, good: 1, good + "\r\n" + good: 2, good + "\n" + good + "\n": 2} {
		list := answers(t, input)
		if len(list) != n {
			t.Errorf("%d answers, want %d", len(list), n)
		}
		for _, a := range list {
			if a.Bill.Total != "368.33" {
				t.Errorf("answered with %+v", a)
			}
		}
	}
	if list := answers(t, "\n \r\n"+good+"\n\n"); len(list) != 1 || list[0].Line != 3 {
		t.Errorf("among blank lines answered with %+v", list)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("the disk is full") }

func TestExit(t *testing.T) {
	var out, messages bytes.Buffer
	broken := io.MultiReader(strings.NewReader(oneLine(counted)), iotest.ErrReader(errors.New("the line went dead")))
	if code := run(nil, broken, &out, &messages); code != 2 || !strings.Contains(messages.String(), "went dead") {
		t.Errorf("an input that breaks off: exits with %d, %s", code, &messages)
	}
	if !strings.Contains(out.String(), `"total":"368.33"`) {
		t.Errorf("what came before is answered with %s", &out)
	}
	if code := run(nil, strings.NewReader(many(100)), full{}, io.Discard); code != 1 {
		t.Errorf("an output that takes nothing: exits with %d", code)
	}
	messages.Reset()
	if code := run([]string{"-h"}, nil, io.Discard, &messages); code != 0 || !strings.Contains(messages.String(), "landing_min") {
		t.Errorf("-h: exits with %d, %s", code, &messages)
	}
	if code := run([]string{"file"}, nil, io.Discard, io.Discard); code != 2 {
		t.Errorf("an argument: exits with %d", code)
	}
}

// An answer goes out as soon as there is nothing else to do: a program may wait
// for each before it writes the next job.
func TestAtOnce(t *testing.T) {
	in, jobs := io.Pipe()
	lines, out := io.Pipe()
	code := make(chan int)
	go func() {
		defer out.Close()
		code <- run(nil, in, out, io.Discard)
	}()
	r := bufio.NewReader(lines)
	for i := range 3 {
		if _, err := io.WriteString(jobs, oneLine(counted)); err != nil {
			t.Fatal(err)
		}
		if l, err := r.ReadString('\n'); err != nil || !strings.HasPrefix(l, fmt.Sprintf(`{"line":%d,`, i+1)) {
			t.Fatalf("%v, %.60s", err, l)
		}
	}
	jobs.Close()
	if c := <-code; c != 0 {
		t.Errorf("exits with %d", c)
	}
}

// stuck takes nothing until it is let go.
type stuck chan struct{}

func (s stuck) Write(p []byte) (int, error) {
	<-s
	return len(p), nil
}

// While nobody takes the answers, no more than a few lines a worker are read.
func TestWindow(t *testing.T) {
	const workers, most = 2, 2*4*2 + 2 + 3 // waiting, answered and not taken, worked on, and one in each hand
	var given atomic.Int32
	in, jobs := io.Pipe()
	go func() {
		// A line fills the reader's buffer, so that none is read ahead.
		for range 100 {
			_, _ = io.WriteString(jobs, strings.Repeat(" ", 1<<16)+"{}\n")
			given.Add(1)
		}
		jobs.Close()
	}()
	out, done := make(stuck), make(chan int)
	go func() {
		n := 0
		_, _ = stream(in, out, workers, func(answer) { n++ })
		done <- n
	}()
	for last := int32(-1); given.Load() != last; time.Sleep(50 * time.Millisecond) {
		last = given.Load()
	}
	if n := given.Load(); n > most {
		t.Errorf("%d lines were read ahead, want at most %d", n, most)
	}
	close(out)
	if n := <-done; n != 100 {
		t.Errorf("%d answers to 100 lines", n)
	}
}

func TestDemo(t *testing.T) {
	demo, err := os.ReadFile("jobs.ndjson")
	if err != nil {
		t.Fatal(err)
	}
	var out, sums bytes.Buffer
	if code := run([]string{"-sum"}, bytes.NewReader(demo), &out, &sums); code != 0 {
		t.Fatalf("exits with %d", code)
	}
	if got := sums.String(); !strings.HasPrefix(got, "3 jobs, 1 of them with faults\nGBP ") || !strings.Contains(got, "\nUSD ") {
		t.Errorf("the sum is\n%s", got)
	}
	if n := strings.Count(string(demo), "(invented)"); n != 3 {
		t.Errorf("%d of 3 jobs are marked as invented", n)
	}
}

// The program needs two packages of the module and no other.
func TestImports(t *testing.T) {
	const module = "github.com/slopewright/slopewright"
	may := map[string]bool{
		module + "/stair": true, module + "/materials": true,
		"github.com/martinlindhe/unit": true, "github.com/shopspring/decimal": true,
	}
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) < 2 {
		t.Fatalf("files are %v, %v", files, err)
	}
	for _, name := range files {
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, spec := range f.Imports {
			path, _ := strconv.Unquote(spec.Path.Value)
			if host, _, _ := strings.Cut(path, "/"); strings.Contains(host, ".") && !may[path] {
				t.Errorf("%s imports %s", name, path)
			}
		}
	}
}

// Jobs in a second: on one core for reference, and on all.
func BenchmarkJobs(b *testing.B) {
	input := strings.Repeat(oneLine(counted)+oneLine(strings.Replace(counted, `"landing_min": 0, `, "", 1)), 250)
	n := strings.Count(input, "\n")
	for _, cores := range []int{1, runtime.NumCPU()} {
		b.Run(fmt.Sprintf("cores=%d", cores), func(b *testing.B) {
			defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
			for b.Loop() {
				if code := run(nil, strings.NewReader(input), io.Discard, io.Discard); code != 0 {
					b.Fatalf("exits with %d", code)
				}
			}
			b.ReportMetric(float64(n*b.N)/b.Elapsed().Seconds(), "jobs/s")
		})
	}
}
