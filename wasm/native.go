//go:build !js

// The calculator for anything that can start a program: the bytes of a request
// document on standard input, the bytes of a result or error document on
// standard output, and no logic besides. See [slopewright.Call] for the
// documents. The tests hold its answers against those of the WebAssembly build
// of this package, byte for byte.
//
// It exits with 1 when standard input or output fails; an error document is an
// answer like any other.
package main

import (
	"fmt"
	"io"
	"os"

	"github.com/slopewright/slopewright"
)

func main() {
	request, err := io.ReadAll(os.Stdin)
	if err == nil {
		_, err = os.Stdout.Write(slopewright.Call(request))
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "slopewright:", err)
		os.Exit(1)
	}
}
