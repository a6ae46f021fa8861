package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
)

// maxLine is the most bytes of a line.
const maxLine = 1 << 20

// line is a line of the input on its way to its answer.
type line struct {
	number int
	text   []byte
	long   bool        // longer than maxLine, and not kept
	answer chan answer // holds one, so that no worker waits to be asked
}

// stream answers every line of in that is not blank on out, in order, by so many workers, and
// tells each answer as it is written. What it holds at once is a few lines a
// worker, however long the input.
func stream(in io.Reader, out io.Writer, workers int, told func(answer)) (unread, unwritten error) {
	order := make(chan *line, 4*workers) // as they were read: when it is full, nothing more is
	work := make(chan *line)             // to whichever worker is free
	stop := make(chan struct{})
	defer close(stop)
	var broken error // what ended the input, once order is closed

	go func() {
		defer close(order)
		defer close(work)
		r := bufio.NewReaderSize(in, 1<<16)
		for n := 1; ; n++ {
			text, long, err := next(r)
			if err != nil {
				if err != io.EOF {
					broken = err
				}
				return
			}
			if !long && len(bytes.TrimSpace(text)) == 0 {
				continue // blank, but counted
			}
			l := &line{n, text, long, make(chan answer, 1)}
			for _, to := range []chan *line{order, work} {
				select {
				case to <- l:
				case <-stop:
					return
				}
			}
		}
	}()
	for range workers {
		go func() {
			for l := range work {
				l.answer <- l.answered()
			}
		}()
	}

	w := bufio.NewWriterSize(out, 1<<16)
	held := 0 // answers not flushed yet, as few as lines may wait
	for l := range order {
		var a answer
		select {
		case a = <-l.answer:
		default: // what is answered goes out before there is waiting to do
			if err := w.Flush(); err != nil {
				return nil, err
			}
			held = 0
			a = <-l.answer
		}
		if _, err := w.Write(a.text); err != nil {
			return nil, err
		}
		told(a)
		if held++; len(order) == 0 || held == cap(order) {
			if err := w.Flush(); err != nil {
				return nil, err
			}
			held = 0
		}
	}
	return broken, w.Flush()
}

// next reads a line without its end. One that is too long is read past.
func next(r *bufio.Reader) (text []byte, long bool, err error) {
	for {
		part, err := r.ReadSlice('\n')
		if !long {
			text = append(text, part...)
		}
		if len(bytes.TrimRight(text, "\r\n")) > maxLine {
			text, long = nil, true
		}
		switch {
		case err == bufio.ErrBufferFull:
		case err == io.EOF && (long || len(text) > 0): // the last line needs no end
			return text, long, nil
		default:
			return text, long, err
		}
	}
}

// answered is the answer to a line, and its text.
func (l *line) answered() answer {
	a := answer{Line: l.number}
	if l.long {
		a.Faults.Add("", "", fmt.Sprintf("is a line of more than %d bytes", maxLine), "write a job a line")
	} else {
		a.price(l.text)
	}
	text, err := json.Marshal(a)
	if err != nil { // there is no number in it that JSON has not
		a = answer{Line: l.number}
		a.Faults.Addf("", "has an answer that cannot be written: %v", err)
		text, _ = json.Marshal(a)
	}
	a.text = append(text, '\n')
	return a
}
