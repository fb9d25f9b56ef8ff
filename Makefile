# `make test` is the whole check, the same here and in CI. It installs what it
# needs; everything else needs Go alone.

.PHONY: build test setup lint unit soak site-check golden bench clean

build:
	go run ./cmd/tankleaf build

test: setup lint golden unit site-check

# What the tests use beside Go: a browser, a PDF reader, a second opinion on
# units and on HTML. Nothing is installed twice.
setup:
	@.ci/setup

# Static checks, in the order of how fast they fail.
lint:
	@test -z "$$(gofmt -l cmd internal templates *.go)" || { gofmt -l cmd internal templates *.go; exit 1; }
	go vet ./...
	go tool exhaustive -typeonly '^tankleaf' ./...
	go tool staticcheck ./...
	go mod tidy -diff
	go mod verify

# Every test once; then, with the race detector and without the slow ones, the
# packages in which more than one goroutine is at work.
unit:
	go test -timeout 20m ./...
	go test -race -short -timeout 20m ./internal/compat ./internal/page ./internal/site ./cmd/tankleaf

# The long runs: every page of every hostile office.
soak:
	TANKLEAF_SOAK=1 go test -timeout 60m ./internal/hostile

# Everything that is generated is written again and must come out the same.
golden:
	.ci/golden

# The demo, built as a stranger would, and looked at by an independent checker.
site-check: build
	npx --no-install html-validate --config .ci/html-validate.json public

bench:
	go test -run '^$$' -bench . -benchmem ./...
	cd internal/search/bench && npm ci --silent --no-audit --no-fund
	go run ./internal/search/bench

clean:
	rm -rf public node_modules
