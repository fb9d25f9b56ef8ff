package trial

import (
	"fmt"
	"io"
	"strings"

	"tankleaf.example/internal/cause"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// The plan as plain text for the terminal, in English. What a reader of the site
// sees is in the message catalogues; roles, rules and codes carry it there.

// asks is what each question asks.
var asks = map[Question]string{
	Cause:      "Which products make it react?",
	Order:      "Does the order of addition matter?",
	Water:      "Does the water matter?",
	Substitute: "What can stand in for one product?",
	Workshop:   "A demonstration.",
}

// Says tells in a line what a jar holds and what it is there for.
func (t *Trial) Says(j *Jar) string {
	names := strings.Join(t.Names(j.Products), ", ")
	about := ""
	if j.About >= 0 {
		about = t.Products[j.About].Name
	}
	switch j.Role {
	case Carrier:
		return "carrier alone"
	case Alone:
		return names + " alone"
	case Whole:
		return "the mix as it is: " + names
	case Part:
		return names
	case OtherOrder:
		return fmt.Sprintf("another order (%s): %s", j.Order, names)
	case OtherWater:
		return "the mix in another water: " + names
	case InPlace:
		return fmt.Sprintf("%s in place of %s: %s", about, t.Products[t.Replaced].Name, names)
	case Without:
		return fmt.Sprintf("without %s: %s", about, names)
	case WithAid:
		return fmt.Sprintf("with %s: %s", about, names)
	case Crowded:
		return fmt.Sprintf("in %s %% of the water: %s", j.Card.Recipe.WaterShare.Mul(unit.Int(100)).Short(0), names)
	case NoRole:
	}
	return names
}

// misses tells of a jar for which there was no room, with what its role does not say.
func (t *Trial) misses(j *Jar) string {
	text := t.Says(j)
	if share := j.Card.Recipe.WaterShare; j.Role == WithAid && share.Cmp(unit.Int(1)) < 0 {
		text += fmt.Sprintf(", in %s %% of the water", share.Mul(unit.Int(100)).Short(0))
	}
	if j.Water != "" && t.Question == Water {
		text += fmt.Sprintf(", in %s", j.Water)
	}
	return text
}

// printer writes lines; the first error stops it.
type printer struct {
	w   io.Writer
	err error
}

func (p *printer) line(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format+"\n", args...)
	}
}

// WriteText writes a trial with its cards and its kit as plain text.
func (t *Trial) WriteText(w io.Writer, k *Kit) error {
	p := &printer{w: w}
	t.head(p)
	t.list(p)
	t.writePlan(p)
	t.writeStocks(p)
	for i := range t.Jars {
		t.writeCard(p, &t.Jars[i])
	}
	t.writeKit(p, k)
	return p.err
}

// head says what is dangerous before anything else.
func (t *Trial) head(p *printer) {
	for _, h := range t.Hazards {
		if endangers(h) {
			p.line("Hazard: %v. Jars marked open stay open: no fixed lid, no shaking, no face above them.", h)
		}
	}
	p.line("%s Known of the mix: %v; untested pairs: %d.", asks[t.Question], t.Verdict, t.Untested)
	p.line("%d jars, %v of mix in %v vessels, seed %d", len(t.Jars), inML(t.Vessel.Fill), t.Vessel.Size, t.Seed)
	day := ""
	if !t.Time.Day.IsZero() {
		day = fmt.Sprintf(", %s from the first jar to the last reading of the day", hours(t.Time.Day))
	}
	p.line("about %s of work for one group%s", hours(t.Time.Hands), day)
	for i := range t.LeftOut {
		p.line("left out for want of jars: %s", t.misses(&t.LeftOut[i]))
	}
}

// rules tell how jars are mixed, for the word that stands at each.
func (t *Trial) rules(p *printer) {
	p.line("\nopen:  no fixed lid, at most one laid on; swirl or stir after each product, never shake")
	p.line("watch: stand open a minute after each product; if nothing rises and it stays cool, close, turn %d times, open at once",
		t.Routine.Inversions)
	var times []string
	for _, r := range t.Routine.Readings {
		times = append(times, r.String())
	}
	p.line("read after %s", strings.Join(times, ", "))
}

func (t *Trial) list(p *printer) {
	t.rules(p)
	p.line("\nrun  code  mixing  what it is")
	for i := range t.Jars {
		j := &t.Jars[i]
		water := ""
		if j.Water != "" {
			water = " (" + string(j.Water) + ")"
		}
		p.line("%3d  %-4s  %-6s  %s%s", j.Run, j.Code, rule(j.Opening), t.Says(j), water)
	}
}

func rule(o Opening) string {
	if o == Watched {
		return "watch"
	}
	return "open"
}

func (t *Trial) writePlan(p *printer) {
	if t.Plan == nil {
		return
	}
	if t.Plan.Assumed {
		p.line("\nNo record shows the reaction: the mix as it is is taken to have reacted. Pour it first.")
	}
	if len(t.Plan.Steps) == 0 {
		p.line("\nExplanations open: %d. After these jars: %.1f on average, and a single one with a chance of %.0f %%.", t.Plan.Possible, t.Plan.Left, 100*t.Plan.Alone)
		return
	}
	p.line("\n%d explanations are open. Pour the controls, then:", t.Plan.Possible)
	for i, s := range t.Plan.Steps {
		p.line("%3d. %s to %s: if it reacts %s; if not %s", i+1, t.Jars[s.Jar].Code, whyWord(s.Why), t.ends(s.Reacts), t.ends(s.Clear))
	}
	if t.Plan.Cut {
		p.line("     plan again with the results for what follows")
	}
}

func whyWord(w cause.Why) string {
	switch w {
	case cause.Confirm:
		return "confirm"
	case cause.Exclude:
		return "rule out more"
	case cause.Repeat:
		return "repeat"
	case cause.Split, cause.None:
	}
	return "divide"
}

func (t *Trial) ends(e End) string {
	switch {
	case e.Step >= 0:
		return fmt.Sprintf("go to %d", e.Step+1)
	case e.Causes != nil && len(e.Causes) == 0:
		return "nothing reacts"
	case e.Causes != nil:
		var all []string
		for _, c := range e.Causes {
			all = append(all, strings.Join(t.Names(c), " with "))
		}
		return "it is " + strings.Join(all, " and ")
	case e.Possible == 0:
		return "plan again: the results fit nothing simple"
	}
	return fmt.Sprintf("%d explanations are left", e.Possible)
}

func (t *Trial) writeStocks(p *printer) {
	if len(t.Stocks) > 0 {
		p.line("\nMake first, in each group")
	}
	for _, s := range t.Stocks {
		times := ""
		if s.Times > 1 {
			times = fmt.Sprintf(", %d times", s.Times)
		}
		p.line("  stock of %s, 1 in %d: %s made up to %s in %s%s%s", t.Products[s.Product].Name, s.Stock.Parts, s.Stock.Product.Says(),
			inML(s.Stock.Volume), toolName(s.Stock.MadeIn), shake(s.Stock.Shake), times)
	}
}

func shake(yes bool) string {
	if yes {
		return "; shake before drawing"
	}
	return ""
}

func toolName(t *mix.Tool) string {
	if t == nil {
		return ""
	}
	s, _ := t.Name.In("en", "en")
	return s
}

func (t *Trial) writeCard(p *printer, j *Jar) {
	p.line("\nJar %s, run %d, %s", j.Code, j.Run, rule(j.Opening))
	p.line("     %-26s %s", "first water", j.Card.First.Says())
	for i := range j.Card.Doses {
		l := &j.Card.Doses[i]
		from := ""
		if l.Stock != nil {
			from = fmt.Sprintf(" of the stock 1 in %d", l.Stock.Parts)
		}
		p.line("%3d  %-26s %s%s; exact %s %s, poured %s, %s %% off%s", i+1, l.Dose.Product.Name, l.Pour.Says(), from,
			l.Dose.Amount.Base().Short(3), l.Dose.Amount.BaseUnit(), l.Poured.Base().Short(3), signed(l.Error), shake(l.Shake))
	}
	if j.Card.TopUp.Poured.Base().Sign() > 0 {
		p.line("     %-26s %s", "top up", j.Card.TopUp.Says())
	}
}

func signed(n unit.Number) string {
	s := n.Mul(unit.Int(100)).Fixed(1)
	if n.Sign() > 0 {
		return "+" + s
	}
	return s
}

// inML writes a volume as cylinders show it.
func inML(v unit.Volume) string { return v.Base().Short(1) + " mL" }

// hours writes a time to five minutes.
func hours(d unit.Duration) string {
	five, _ := d.Base().Quo(unit.Int(5)).Round(0).Int64()
	if h, m := five/12, five%12*5; h > 0 {
		return fmt.Sprintf("%d h %02d min", h, m)
	}
	return fmt.Sprintf("%d min", five*5)
}

func (t *Trial) writeKit(p *printer, k *Kit) {
	p.line("\nKit for %s in %s, %s, with %s %% to spare", count(k.Persons, "person", "people"), count(k.Groups, "group", "groups"),
		count(k.Jars, "jar", "jars"), k.Spare.Mul(unit.Int(100)).Short(0))
	for _, x := range k.Products {
		p.line("  %-58s %s %s", t.Products[x.Product].Name, x.Bring.Base().Short(0), x.Bring.BaseUnit())
	}
	for _, w := range k.Waters {
		name := string(w.Water)
		if name == "" {
			name = "water"
		}
		p.line("  %-58s %s L", name, w.Bring.In(unit.Liter).Short(1))
		for _, s := range w.Salts {
			p.line("    %-56s %s", s.Name, s.Pour.Says())
		}
	}
	p.line("  %-58s %s", fmt.Sprintf("%v jars", k.VesselSize), k.Vessels)
	for _, x := range k.Tools {
		p.line("  %-58s %s", toolName(x.Tool), x.Count)
	}
	for _, list := range [][]ItemCount{k.Wear, k.Other} {
		for _, x := range list {
			s, _ := x.Item.Name.In("en", "en")
			p.line("  %-58s %s", s, x.Count)
		}
	}
}

// String writes a count with its reserve: "48 + 5 spare".
func (c Count) String() string {
	if c.Spare == 0 {
		return fmt.Sprint(c.Needed)
	}
	return fmt.Sprintf("%d + %d spare", c.Needed, c.Spare)
}

// count writes a number of things.
func count(n int, one, other string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, other)
}
