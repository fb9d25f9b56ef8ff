package main

import (
	"bytes"
	"errors"
	"flag"
	"io/fs"
	"slices"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/intake"
	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/site"
	"tankleaf.example/internal/trial"
	"tankleaf.example/internal/unit"
)

var trialCommand = &command{
	name: "trial",
	args: `MIX… --question cause|order|water|substitute|workshop [--spray-volume "20 gal/ac"] [--jars N] [--json]`,
	does: "plan the jars that answer a question",
	long: `
Plans a set of jars with doses that the office's tools can measure, controls,
neutral codes and runs in an order that --seed settles, and counts the kit. MIX is
product ids; each goes in at the highest rate of its label unless --rate says
another. What gives gas stays open; what gives toxic gas or fire is refused.

  cause       which products make it react: N jars of one day, or with --adaptive
              one jar at a time, each hanging on the one before
  order       the office's order, the reverse, published orders, neighbors exchanged
  water       the mix in each --water ID, beside the water alone
  substitute  others in place of --for ID: each --try ID, or what the data names
  workshop    a demonstration for --people N or --groups N

  --rate "ID=1 pt/ac"   instead of the highest rate of the label
  --jars N              at most so many, controls and replicates counted; default 8
  --replicates N        of every jar, in blocks
  --jar "500 mL"        finished volume; chosen when left out
  --water-share "25 %"  crowded jars
  --with ID             a helper, each mix with and without it
  --symptom WORD        of the cause that is looked for
  --people N, --groups N, --deal   who pours; --deal shares the jars out
  --as-used             rates outside the label are meant
  --sheet FILE          write the record sheet to be filled in, as CSV

  tankleaf trial thatchmoor skeinlow sapwhittle --question order --spray-volume "20 gal/ac"
  tankleaf trial larkstile firkinlow --question workshop --spray-volume "100 gal/ac" --people 24 --groups 6
`,
	run: runTrial,
}

// several collects a flag that may be given again.
type several []string

func (w *several) String() string { return "" }

func (w *several) Set(s string) error { *w = append(*w, s); return nil }

// trialFlags are the flags of trial as they are written.
type trialFlags struct {
	question, spray, jar, share, with, symptom, replaced, sheet string
	waters, try                                                 several
	rates                                                       rates
	read                                                        []jar.Product // rates, once read
	adaptive, asUsed                                            bool
	jars, replicates                                            int
	seed                                                        uint64
	people                                                      trial.People
}

func (f *trialFlags) register(c *call) {
	c.flags.StringVar(&f.question, "question", "", "")
	c.flags.StringVar(&f.spray, "spray-volume", "", "")
	c.flags.StringVar(&f.jar, "jar", "", "")
	c.flags.StringVar(&f.share, "water-share", "", "")
	c.flags.StringVar(&f.with, "with", "", "")
	c.flags.StringVar(&f.symptom, "symptom", "", "")
	c.flags.StringVar(&f.replaced, "for", "", "")
	c.flags.StringVar(&f.sheet, "sheet", "", "")
	c.flags.Var(&f.waters, "water", "")
	c.flags.Var(&f.try, "try", "")
	c.flags.Var(&f.rates, "rate", "")
	c.flags.BoolVar(&f.adaptive, "adaptive", false, "")
	c.flags.BoolVar(&f.asUsed, "as-used", false, "")
	c.flags.IntVar(&f.jars, "jars", trial.UsualJars, "")
	c.flags.IntVar(&f.replicates, "replicates", 1, "")
	c.flags.Uint64Var(&f.seed, "seed", 1, "")
	c.flags.IntVar(&f.people.Persons, "people", 1, "")
	c.flags.IntVar(&f.people.Groups, "groups", 0, "")
	c.flags.BoolVar(&f.people.Shared, "deal", false, "")
}

func runTrial(c *call) error {
	var f trialFlags
	f.register(c)
	if err := c.want(1, compat.MaxItems); err != nil {
		return err
	}
	office, err := c.mustRead()
	if err != nil {
		return err
	}
	planner := trial.New(compat.New(office.Index))
	q, err := f.request(c, office, planner)
	if err != nil {
		return c.trialProblems(err)
	}
	t, err := planner.Trial(q)
	if err != nil {
		return c.trialProblems(err)
	}
	k, err := planner.Kit(t, f.crowd(c))
	if err != nil {
		return c.trialProblems(err)
	}
	if f.sheet != "" {
		if err := writeSheet(f.sheet, t); err != nil {
			return err
		}
	}
	if c.json {
		return c.printJSON(t.JSON(&k))
	}
	return t.WriteText(c.out, &k)
}

// writeSheet writes the record sheet into a new file; ids begin with its name.
func writeSheet(name string, t *trial.Trial) error {
	var b bytes.Buffer
	if err := t.WriteSheet(&b, intake.Folder(name)); err != nil {
		return err
	}
	err := writeNew(name, b.Bytes())
	if errors.Is(err, fs.ErrExist) {
		return usagef("name a file that is not there yet", "%s is there already", name)
	}
	return err
}

// trialProblems passes a wrong call through and prints what is wrong with a request.
func (c *call) trialProblems(err error) error {
	if _, wrong := err.(usageError); wrong {
		return err
	}
	return c.doseProblems(err)
}

// crowd is who pours. Groups alone bring their own people.
func (f *trialFlags) crowd(c *call) trial.People {
	if f.people.Groups > 0 && !c.given("people") {
		f.people.Persons = 0
	}
	return f.people
}

// given reports whether a flag was written.
func (c *call) given(name string) bool {
	found := false
	c.flags.Visit(func(f *flag.Flag) { found = found || f.Name == name })
	return found
}

func (f *trialFlags) request(c *call, o *site.Office, p *trial.Planner) (trial.Request, error) {
	q := trial.Request{Jars: f.jars, Replicates: f.replicates, Seed: f.seed, For: f.replaced, Adaptive: f.adaptive, AsUsed: f.asUsed}
	if f.jars == 0 || f.replicates < 1 {
		return q, usagef("write 1 or more", "a number of jars or replicates below 1")
	}
	known := false
	if q.Question, known = trial.ParseQuestion(f.question); !known {
		return q, unknownID("question", f.question, trial.Questions())
	}
	if f.symptom != "" {
		if q.Symptom, known = mix.ParseSymptom(f.symptom); !known {
			return q, unknownID("symptom", f.symptom, symptomWords())
		}
	}
	for _, w := range f.waters {
		if o.Index.Water(mix.ID(w)) == nil {
			return q, unknownID("water", w, ids(o.Book.Waters, func(p *mix.WaterSource) mix.ID { return p.ID }))
		}
		q.Waters = append(q.Waters, mix.ID(w))
	}
	in := jar.RecipeInput{Jar: f.jar, SprayVolume: f.spray, WaterShare: f.share, Products: f.rates}
	read, err := in.Request()
	if err != nil {
		return q, err
	}
	q.Jar, q.SprayVolume, q.Share = read.Jar, read.SprayVolume, read.WaterShare
	f.read = read.Products
	err = f.products(c, o, p, &q)
	return q, err
}

// products looks up the mix, the helper and what is tried, each at its rate.
func (f *trialFlags) products(c *call, o *site.Office, p *trial.Planner, q *trial.Request) error {
	find := func(name string) (jar.Product, error) {
		known := o.Index.Product(mix.ID(name)) != nil
		i := slices.IndexFunc(f.read, func(r jar.Product) bool { return r.Name == name })
		switch {
		case i >= 0:
			return p.Product(name, f.read[i].Rate), nil
		case known:
			return p.Product(name, unit.Rate{}), nil
		}
		return jar.Product{}, unknownID("product", name, ids(o.Book.Products, func(p *mix.Product) mix.ID { return p.ID }))
	}
	for _, name := range c.args {
		one, err := find(name)
		if err != nil {
			return err
		}
		q.Mix = append(q.Mix, one)
	}
	for _, name := range f.try {
		one, err := find(name)
		if err != nil {
			return err
		}
		q.Substitutes = append(q.Substitutes, one)
	}
	if f.with != "" {
		one, err := find(f.with)
		if err != nil {
			return err
		}
		q.Aid = &one
	}
	return f.unusedRates(c)
}

// unusedRates refuses a rate for what is not poured: surely a misspelled id.
func (f *trialFlags) unusedRates(c *call) error {
	poured := append(append(slices.Clone(c.args), f.try...), f.with)
	for _, r := range f.read {
		if !slices.Contains(poured, r.Name) {
			return unknownID("product in a rate", r.Name, poured)
		}
	}
	return nil
}

func symptomWords() []string {
	var all []string
	for _, s := range mix.Symptoms() {
		all = append(all, s.String())
	}
	return all
}
