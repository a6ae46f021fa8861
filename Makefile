# Slopewright. Two commands do everything on a machine with Go and Node:
#
#   make run    build, print a plan of a demo hill, serve the page on localhost
#   make test   prove it: Go, the WebAssembly build, the page in a browser
#
# Both install what they lack through the ordinary clients: go, npm ci and, for
# the browser test only, apt-get (as root, or with sudo).

SHELL := /bin/bash
.SHELLFLAGS := -euo pipefail -c
.DEFAULT_GOAL := help

PORT ?= 8080
PLAN ?= testdata/plans/gentle.json
CHROMIUM ?= /usr/bin/chromium

# The small program is what every visitor loads. The whole one is loaded when
# somebody asks for what only it does.
MODULE := github.com/slopewright/slopewright
WASM := build/wasm/slopewright.wasm
WHOLE := build/wasm/slopewright-whole.wasm
# What reads and writes documents and makes texts, faults and drawings is not inlined: it is quick enough, and 50 kB less.
WASM_FLAGS := -trimpath -ldflags=-w -gcflags=all= $(foreach p,docjson fault tape draw lang sheet,-gcflags=$(MODULE)/internal/$(p)=-l) -gcflags=fmt=-l -gcflags=github.com/shopspring/decimal=-l -gcflags=math/big=-l -gcflags=reflect=-l
NPM := site/node_modules/.package-lock.json
GO_FILES = $(shell find . -name '*.go' -not -path '*/node_modules/*' -not -path './build/*')

.PHONY: help run serve test build site wasm fmt fmt-check vet check test-go test-wasm test-site test-browser size bench bench-page bench-fits crosscheck straightcheck schema native browser clean

help: ## say what there is
	@grep -hE '^[a-z-]+:.*## ' $(MAKEFILE_LIST) | sed -E 's/:.*## /\t/' | expand -t 16

run: site ## build, print a demo plan, serve the page (PORT=8080 PLAN=testdata/plans/gentle.json)
	go run ./examples/plan $(PLAN)
	@PORT=$(PORT) exec node site/serve.mjs

serve: site ## serve the page only
	@PORT=$(PORT) exec node site/serve.mjs

test: fmt-check vet test-go wasm test-wasm size check test-browser ## everything, as CI does it (PICTURES=1 keeps pictures of the page in build/screenshots)

build: site ## all that can be built: native, WebAssembly, page
	go build ./...

site: wasm $(NPM) ## the page, for any static host, in build/site
	node site/build.mjs

# Go keeps its own books on what is out of date.
wasm: ## the calculator as WebAssembly, in build/wasm
	@mkdir -p build/wasm
	GOOS=js GOARCH=wasm go build $(WASM_FLAGS) -o build/linked.wasm ./wasm
	node site/pack.mjs build/linked.wasm $(WASM)
	GOOS=js GOARCH=wasm go build $(WASM_FLAGS) -tags=whole -o build/linked.wasm ./wasm
	node site/pack.mjs build/linked.wasm $(WHOLE)
	@cp "$$(go env GOROOT)/lib/wasm/wasm_exec.js" build/wasm/wasm_exec.js

$(NPM): site/package-lock.json site/package.json
	cd site && npm ci --no-audit --no-fund
	@touch $@

fmt: ## format the Go code
	gofmt -w $(GO_FILES)

fmt-check:
	@bad="$$(gofmt -l $(GO_FILES))"; if [ -n "$$bad" ]; then echo "not formatted; run make fmt:"; echo "$$bad"; exit 1; fi

vet:
	go vet ./...
	GOOS=js GOARCH=wasm go vet . ./wasm
	GOOS=js GOARCH=wasm go vet -tags=whole . ./wasm

test-go: ## Go tests
	go test ./...

native:
	@mkdir -p build/native
	go build -o build/native/slopewright ./wasm

test-wasm: wasm native $(NPM) ## the same bytes from the native and the WebAssembly build
	node --test --test-reporter=spec site/test/pack.test.mjs site/test/straight.test.mjs site/test/wasm.test.mjs

size: site ## what a visitor loads, over the wire, and its budget
	node site/size.mjs build/site

check: $(NPM) ## types of the page
	cd site && npx --no-install tsc -p .
	@mkdir -p build/test
	node site/types.mjs build/test/slopewright-planner.d.ts
	cd site && npx --no-install tsc --ignoreConfig --noEmit --strict --types "" --target es2022 --module esnext --moduleResolution bundler --lib es2023,dom,dom.iterable test/element.ts
	node site/lock.mjs

test-browser: site native browser ## the page, driven in a browser as a person would
	CHROMIUM=$(CHROMIUM) go test -count=1 -run 'InBrowser|TestSheetPrinted|TestDrawingsRendered' .
	CHROMIUM=$(CHROMIUM) node site/test/run.mjs site/test/browser.test.mjs site/test/language.test.mjs site/test/everyone.test.mjs site/test/words.test.mjs site/test/told.test.mjs site/test/kept.test.mjs site/test/hostile.test.mjs site/test/grips.test.mjs site/test/money.test.mjs site/test/book.test.mjs site/test/tape.test.mjs site/test/fits.test.mjs site/test/serve.test.mjs

browser:
	@if [ ! -x $(CHROMIUM) ] || ! command -v rsvg-convert > /dev/null; then \
	  as=""; if [ "$$(id -u)" != 0 ]; then as=sudo; fi; \
	  $$as apt-get update && $$as env DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends chromium fonts-dejavu librsvg2-bin; \
	fi

CASES ?= 220
crosscheck: $(NPM) ## cut plans, fits, haul plans and volumes against general solvers, times side by side (a quarter of an hour; CASES=220)
	@mkdir -p build/crosscheck
	go test ./materials -count=1 -run TestTradeCases -trade-cases $(CASES) -trade $(CURDIR)/build/crosscheck/native.json
	GOOS=js GOARCH=wasm go test ./materials -count=1 -run TestTradeCases -trade-cases $(CASES) -trade $(CURDIR)/build/crosscheck/wasm.json \
	  -exec "env -i HOME=$(CURDIR)/build PATH=$(PATH) $$(go env GOROOT)/lib/wasm/go_js_wasm_exec"
	node site/test/cutting.highs.mjs build/crosscheck/native.json build/crosscheck/wasm.json
	go test ./stair -count=1 -run TestModelsForSolver -models $(CURDIR)/build/crosscheck/fits.json
	node site/test/fitting.highs.mjs build/crosscheck/fits.json
	go test ./earthwork -count=1 -run TestHaulModelsForSolver -haul-models $(CURDIR)/build/crosscheck/hauls.json
	node site/test/haul.highs.mjs build/crosscheck/hauls.json
	go test ./earthwork -count=1 -run TestSitesForGeometry -sites $(CURDIR)/build/crosscheck/sites.json
	node site/test/volumes.clip.mjs build/crosscheck/sites.json

STRAIGHT ?= sync sort strings fmt strconv reflect time maps slices errors context regexp math/big encoding/json runtime
straightcheck: ## Go's own tests of its library, as WebAssembly with straight jumps (ten minutes; STRAIGHT=packages)
	@mkdir -p build/straight
	for of in $(STRAIGHT); do \
	  GOOS=js GOARCH=wasm go test -c -ldflags=-w -o build/straight/linked.wasm $$of; \
	  node site/straight.mjs build/straight/linked.wasm build/straight/test.wasm; \
	  (cd "$$(go env GOROOT)/src/$$of" && echo -n "$$of: " && env -i HOME=$(CURDIR)/build PATH="$$PATH" \
	    "$$(go env GOROOT)/lib/wasm/go_js_wasm_exec" $(CURDIR)/build/straight/test.wasm -test.short | tail -1); \
	done

bench: ## Go benchmarks
	go test -run '^$$' -bench . -benchmem ./...

bench-page: size browser ## what a visitor loads and how long it takes, printed
	CHROMIUM=$(CHROMIUM) node site/test/page.bench.mjs

bench-fits: site browser ## fits of every kind, natively and in a browser beside it
	@mkdir -p build/bench
	go test -count=1 -run TestFitsForBrowser -fits $(CURDIR)/build/bench/fits.json .
	CHROMIUM=$(CHROMIUM) node site/test/fits.bench.mjs build/bench/fits.json

schema: ## write the published schema from the Go types
	go test -run TestPublishedSchemas -update .

clean: ## take out everything built
	rm -rf build site/node_modules
