# `make test` is the whole check, the same here and in CI. It installs what it
# needs; everything else needs Go alone.

.PHONY: build test setup lint unit race soak mutants vuln site-check golden bench clean

build:
	go run ./cmd/tankleaf build

test: setup lint golden unit race site-check

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

# Every test once.
unit:
	go test -timeout 20m ./...

# Where more than one goroutine is at work, under the race detector: the judge, the
# preview server, and the demo's whole build, which must come out as without it.
race: build
	go test -race -short -timeout 20m ./internal/compat ./internal/preview
	@at=$$(mktemp -d) && go run -race ./cmd/tankleaf build --out $$at/public && diff -rq public $$at/public && rm -r $$at

# The long runs, one package after the other: DEVELOPERS.md says what each covers and how long it takes.
soak:
	TANKLEAF_SOAK=1 go test -count=1 -p 1 -timeout 60m ./internal/cause ./internal/hostile ./internal/planner ./internal/site
	TANKLEAF_SOAK=1 go test -count=1 -timeout 60m -run '^TestPrints$$' ./internal/page

# Faults seeded into the code that judges and measures: the tests must notice at
# least 95 in 100. The same sample each time; SEED=2 draws another.
SEED ?= 1
JUDGES = internal/compat internal/cause internal/trial internal/jar internal/gas internal/mix internal/unit
mutants:
	nice go run ./internal/mutate -n 40 -seed $(SEED) $(JUDGES)

# Known holes in the modules that we use. Asks the network.
vuln:
	@.ci/vuln

# Everything that is generated is written again and must come out the same.
golden:
	.ci/golden

# The demo, built as a stranger would, and an office that nobody wrote, looked at by an independent checker.
site-check: build
	npx --no-install html-validate --config .ci/html-validate.json public
	@at=$$(mktemp -d) && TANKLEAF_GENERATED_INTO=$$at/public go test -count=1 -run TestGeneratedOffice ./internal/site && \
		npx --no-install html-validate --config .ci/html-validate.json $$at/public && rm -r $$at

bench:
	go test -run '^$$' -bench . -benchmem ./...
	cd internal/search/bench && npm ci --silent --no-audit --no-fund
	go run ./internal/search/bench

clean:
	rm -rf public node_modules
