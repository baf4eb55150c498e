# make check   everything the build machine checks, in the same order
# make test    install what the tests need, run them
# make build   bin/strapper, one static file
# make bench   benchmarks (BENCH=regexp)        make fuzz   FUZZTIME=60s each target
# make format  rewrite the code as gofumpt wants it
# make golden  rewrite the expected outputs; read the difference before committing

.DEFAULT_GOAL := build
.PHONY: build check test test-tools format golden tidy-check vet format-check staticcheck wasm-check bench fuzz clean

# Linters and the test runner are built from the versions in tools/go.mod.
BIN   := $(CURDIR)/.bin
STAMP := $(BIN)/built
BENCH ?= .
FUZZTIME ?= 60s

# How many random houses the search for a change is compared on with trying
# everything; plain go test takes fewer.
export STRAPPER_HOUSES ?= 2000

TEST := $(BIN)/gotestsum --format pkgname -- -count=1

build:
	CGO_ENABLED=0 go build -trimpath -ldflags='-s -w' -o bin/strapper ./cmd/strapper

# The tests come last, so that the run ends with their count. Their expected
# outputs (goldens, the printed schema) are compared there, which also shows
# that generated files are current.
check: test-tools tidy-check vet format-check staticcheck wasm-check
	$(TEST) ./...

test: test-tools $(STAMP)
	$(TEST) ./...

# The programs the tests compare with: a circuit simulator and PDF readers.
test-tools:
	./scripts/install-test-tools

$(STAMP): tools/go.mod tools/go.sum
	GOBIN=$(BIN) go -C tools install tool
	@touch $@

tidy-check:
	go mod tidy -diff
	go -C tools mod tidy -diff

vet:
	go vet ./...

format-check: $(STAMP)
	@echo "gofumpt -l ."
	@unformatted=$$($(BIN)/gofumpt -l .) || exit 1; \
	if [ -n "$$unformatted" ]; then \
		echo "not formatted, run 'make format':" >&2; echo "$$unformatted" >&2; exit 1; \
	fi

staticcheck: $(STAMP)
	$(BIN)/staticcheck ./...

# Everything but the command must build for a browser.
wasm-check:
	GOOS=js GOARCH=wasm go build $$(go list ./... | grep -v '^strapper/cmd/')

format: $(STAMP)
	$(BIN)/gofumpt -l -w .

# Only packages whose tests define -update can be given it.
golden:
	@packages=$$(grep -rlE --include='*_test.go' 'flag\.Bool(Var)?\(.*"update"' . | xargs -r -n1 dirname | sort -u); \
	if [ -z "$$packages" ]; then echo "no test defines -update" >&2; exit 1; fi; \
	echo "go test -count=1" $$packages "-update"; go test -count=1 $$packages -update

bench:
	go test -run '^$$' -bench '$(BENCH)' -benchmem ./...

fuzz:
	FUZZTIME=$(FUZZTIME) ./scripts/fuzz

clean:
	rm -rf bin .bin
