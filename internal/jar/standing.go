package jar

import (
	"math"
	"slices"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// Standing time: how much of an active is left after a mix has waited at a pH, from
// published half-lives. It tells which waits cost a dose. It is never permission:
// that much is left says nothing of what a partner does, and a buffer in a
// laboratory is no tank.

// Reach says how a half-life at a pH was come by. The zero Reach is not known.
type Reach uint8

const (
	NotPublished Reach = iota // outside what the source gives, or between points that do not bound it
	Published                 // the source gives it for this pH
	Interpolated              // between two neighboring points of the source
	CalledStable              // the source calls it stable, without a number
)

// Life is what one source says of an active at one pH.
type Life struct {
	Record    *mix.HalfLife
	Reach     Reach
	Low, High float64 // minutes, when Reach is Published or Interpolated; Low 0: no lower end; High +Inf: no upper end
	About     bool    // the source says about
}

// numbers reports whether there is a half-life to count with.
func (l Life) numbers() bool { return l.Reach == Published || l.Reach == Interpolated }

// LifeAt returns what a record says of a pH. Between two neighboring points of the
// record the logarithm of the half-life is interpolated along pH, for hydrolysis by
// hydroxide alone makes it a straight line there; beyond the outermost points, and
// beside a point without a number, nothing is known. Two records are never joined.
func LifeAt(h *mix.HalfLife, ph unit.Number) Life {
	for i := range h.Points {
		p := &h.Points[i]
		switch {
		case ph.Cmp(p.PH[0]) < 0 && i > 0:
			return between(h, &h.Points[i-1], p, ph)
		case ph.Cmp(p.PH[0]) < 0:
			return Life{Record: h}
		case ph.Cmp(p.PH[1]) > 0:
		case p.Stable:
			return Life{Record: h, Reach: CalledStable, About: p.About}
		default:
			low, high := ends(p)
			return Life{h, Published, low, high, p.About}
		}
	}
	return Life{Record: h}
}

// ends returns the bounds of a point in minutes.
func ends(p *mix.HalfPoint) (low, high float64) {
	high = math.Inf(1)
	if p.Low.Set {
		low = p.Low.Value.Float()
	}
	if p.High.Set {
		high = p.High.Value.Float()
	}
	return low, high
}

// between interpolates lower and upper ends apart. An end that one of the two points
// leaves open stays open; with both open nothing is known.
func between(h *mix.HalfLife, a, b *mix.HalfPoint, ph unit.Number) Life {
	if a.Stable || b.Stable {
		return Life{Record: h}
	}
	share := ph.Sub(a.PH[1]).Quo(b.PH[0].Sub(a.PH[1])).Float()
	lowA, highA := ends(a)
	lowB, highB := ends(b)
	l := Life{h, Interpolated, along(lowA, lowB, share), along(highA, highB, share), a.About || b.About}
	if l.Low == 0 && math.IsInf(l.High, 1) {
		return Life{Record: h}
	}
	return l
}

// along goes a share of the way from a to b on the log scale. An open end, 0 or
// infinite, at either side is open all the way.
func along(a, b, share float64) float64 {
	switch {
	case a == 0 || b == 0:
		return 0
	case math.IsInf(a, 1) || math.IsInf(b, 1):
		return math.Inf(1)
	}
	return math.Exp(math.Log(a)*(1-share) + math.Log(b)*share)
}

// Left returns the share of an active, 0 to 1, that is left after a time at a
// half-life in minutes, more than 0: one half to the power of time over half-life, so
// that after one, two and three half-lives 50, 25 and 12.5 % remain (Michigan State
// Univ. Extension, Schilder 2008; National Pesticide Information Center).
func Left(after unit.Duration, halfLife float64) float64 {
	return math.Exp2(-after.Base().Float() / halfLife)
}

// Standing is what all sources say of one active at one pH. The spread is theirs:
// the lowest and the highest that any of them gives, not an interval of confidence.
type Standing struct {
	Lives     []Life  // of every record that says something about this pH, in the order given
	Silent    int     // records that say nothing about it
	Known     bool    // at least one gives a half-life
	Low, High float64 // minutes: the spread, when Known; 0 and +Inf as in Life
	Apart     bool    // two sources do not meet: between their ranges lies a gap
}

// StandingAt gathers what records of one active say of a pH. A source that calls the
// active stable takes the upper end away.
func StandingAt(records []*mix.HalfLife, ph unit.Number) Standing {
	s := Standing{Low: math.Inf(1)}
	stable := false
	for _, h := range records {
		l := LifeAt(h, ph)
		switch {
		case l.Reach == NotPublished:
			s.Silent++
			continue
		case l.numbers():
			s.Known = true
			s.Low, s.High = min(s.Low, l.Low), max(s.High, l.High)
			s.Apart = s.Apart || slices.ContainsFunc(s.Lives, l.misses)
		case l.Reach == CalledStable:
			stable = true
		}
		s.Lives = append(s.Lives, l)
	}
	if !s.Known {
		s.Low = 0
		return s
	}
	if stable {
		s.High = math.Inf(1)
	}
	return s
}

// misses reports whether the ranges of two sources lie apart. One part in a million
// is for the last digit of what was interpolated.
func (l Life) misses(m Life) bool {
	const meets = 1 + 1e-6
	return l.numbers() && m.numbers() && (l.Low > m.High*meets || m.Low > l.High*meets)
}

// Left returns the least and the most that may be left after a time, 0 to 1. ok is
// false when no source gives a half-life at this pH: then nothing is known, which is
// not the same as all of it.
func (s Standing) Left(after unit.Duration) (least, most float64, ok bool) {
	if !s.Known {
		return 0, 0, false
	}
	most = 1
	if s.Low > 0 {
		least = Left(after, s.Low)
	}
	if !math.IsInf(s.High, 1) {
		most = Left(after, s.High)
	}
	if after.IsZero() {
		least = 1
	}
	return least, most, true
}
