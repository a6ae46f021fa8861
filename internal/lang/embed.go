//go:build !js

package lang

import (
	_ "embed"
	"sync"
)

//go:embed es.txt
var spanish string

// Spanish is the catalogue of Spanish. Programs in a browser do not hold it:
// they are handed the file.
var Spanish = sync.OnceValues(func() (*Words, error) { return Read(spanish) })
