package cause

import (
	"fmt"
	"slices"
)

// MaxListed is the size up to which all possible causes of a run are listed.
// A run of that many elements has at most 2^MaxListed-1 of them. For a larger
// run only those of up to three elements are listed, and Finding.Partial says
// so.
const MaxListed = 16

// Status says how far the cause of one reacting run is known.
type Status uint8

// The states of a reacting run. The zero value claims nothing. With one cause
// left a run is established: it is that cause itself, for it counts among its
// own possible causes until something smaller reacts.
const (
	Unknown      Status = iota // not looked at
	Contradicted               // it lies inside a clean run
	Narrowed                   // several causes are possible
	Established                // it holds a set that reacted while everything smaller stayed clean
)

// String returns the word for the status, or Status(n) for a value that has none.
func (s Status) String() string {
	switch s {
	case Unknown:
		return "unknown"
	case Contradicted:
		return "contradicted"
	case Narrowed:
		return "narrowed"
	case Established:
		return "established"
	default:
		return fmt.Sprintf("Status(%d)", uint8(s))
	}
}

// Finding is what the runs say about one reacting run.
type Finding struct {
	Run    Set
	Status Status
	// Via is the smallest reacting runs inside Run, Run itself when there is
	// none smaller. They account for the reaction of Run.
	Via []Set
	// Causes is the established causes inside Run.
	Causes []Set
	// Possible is the sets that may be the cause of the reaction: those inside
	// a run of Via that lie inside no clean run. A run of Via that is itself
	// an established cause adds only itself.
	Possible []Set
	// Partial says that Run is larger than MaxListed and Possible leaves out
	// the possible causes of more than three elements.
	Partial bool
	// Clash is the clean runs that contain Run. Any makes it Contradicted.
	Clash []Set
}

// Report is what the runs of one outcome say, taken at their word: no run is
// held to be misread, except that runs in conflict exclude nothing.
type Report struct {
	Findings  []Finding // one a reacting set, by Set.Compare
	Causes    []Set     // every established cause
	Conflicts []Conflict
}

// Explain finds the possible causes of every reacting run. The order of runs
// and repeats of a run change nothing.
func Explain(runs []Run) Report {
	ev := sift(runs)
	rep := Report{Causes: ev.causes(), Conflicts: ev.conflicts}
	least := smallest(ev.sound)
	possible := make(map[Set][]Set, len(least))
	clashes := ev.conflicts // in the order of the reacting runs
	for _, r := range ev.reacting {
		f := Finding{Run: r, Via: within(least, r), Causes: within(rep.Causes, r)}
		for ; len(clashes) > 0 && clashes[0].Reacting == r; clashes = clashes[1:] {
			f.Clash = append(f.Clash, clashes[0].Clean)
		}
		if f.Clash != nil { // whatever reacted inside is in the same conflict
			f.Via = []Set{r}
		}
		for _, v := range f.Via {
			if _, ok := possible[v]; !ok {
				possible[v] = ev.possible(v)
			}
			f.Possible = append(f.Possible, possible[v]...)
			f.Partial = f.Partial || v.Len() > MaxListed
		}
		f.Possible = tidy(f.Possible)
		f.Status = f.status()
		rep.Findings = append(rep.Findings, f)
	}
	return rep
}

// status applies the rules in the order of caution.
func (f *Finding) status() Status {
	switch {
	case len(f.Clash) > 0:
		return Contradicted
	case len(f.Causes) > 0:
		return Established
	default:
		return Narrowed
	}
}

// within lists the sets that lie inside r.
func within(sets []Set, r Set) []Set {
	var in []Set
	for _, s := range sets {
		if r.Contains(s) {
			in = append(in, s)
		}
	}
	return in
}

// possible lists the subsets of r that lie inside no clean run, in order.
func (ev *evidence) possible(r Set) []Set {
	limit := r.Len()
	if limit > MaxListed {
		limit = 3
	}
	cover := make([]Set, len(ev.clean)) // only their part inside r counts
	for i, c := range ev.clean {
		cover[i] = c & r
	}
	cover = widest(cover)
	var out []Set
	for s := range subsets(r, limit) {
		if s != 0 && !anyContains(cover, s) {
			out = append(out, s)
		}
	}
	slices.SortFunc(out, Set.Compare)
	return out
}
