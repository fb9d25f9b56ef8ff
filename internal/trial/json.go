package trial

import (
	"fmt"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// The JSON of trials. Amounts are decimal strings in mL or g with three decimals, as
// in recipes; times are minutes.

// TrialJSON is a trial with its kit.
type TrialJSON struct {
	Question  Question      `json:"question"`
	Seed      string        `json:"seed"` // a string: scripts lose digits of large numbers
	Verdict   mix.Verdict   `json:"verdict"`
	Untested  int           `json:"untested_pairs"`
	Hazards   []mix.Hazard  `json:"hazards"`
	Symptom   *mix.Symptom  `json:"symptom,omitempty"`
	Replaced  string        `json:"replaced,omitempty"`
	Vessel    VesselJSON    `json:"vessel"`
	Readings  []string      `json:"readings_min"`
	Turns     int           `json:"inversions"` // after each addition
	Minutes   string        `json:"work_min"`
	Jars      []JarJSON     `json:"jars"`
	Stocks    []StockJSON   `json:"stocks"`
	Plan      *PlanJSON     `json:"plan,omitempty"`
	LeftOut   []string      `json:"left_out"`
	Kit       KitJSON       `json:"kit"`
	Products  []ProductJSON `json:"products"`
	Tolerance string        `json:"tolerance"` // per cent
}

// VesselJSON is what jars are made in.
type VesselJSON struct {
	Size jar.VolumeJSON `json:"size"`
	Fill jar.VolumeJSON `json:"fill"`
}

// ProductJSON is a product of the trial with its field rate.
type ProductJSON struct {
	Name string `json:"name"`
	ID   mix.ID `json:"id,omitempty"`
	Rate string `json:"rate"`
}

// JarJSON is one jar.
type JarJSON struct {
	Code     string       `json:"code"`
	Run      int          `json:"run"`
	Block    int          `json:"block"`
	Role     Role         `json:"role"`
	About    string       `json:"about,omitempty"` // the product that the role is about
	Says     string       `json:"says"`
	Products []string     `json:"products"` // in order of addition
	Water    mix.ID       `json:"water,omitempty"`
	Order    string       `json:"order,omitempty"`
	Opening  Opening      `json:"opening"`
	Hazards  []mix.Hazard `json:"hazards"`
	Card     jar.CardJSON `json:"card"`
}

// StockJSON is a stock to make before the first jar.
type StockJSON struct {
	Name  string        `json:"name"`
	Times int           `json:"times"`
	Stock jar.StockJSON `json:"stock"`
}

// PlanJSON is what a search for the cause expects.
type PlanJSON struct {
	Records  int        `json:"records"`
	Assumed  bool       `json:"assumed"`
	Possible int        `json:"possible"`
	Alone    string     `json:"alone,omitempty"` // chance that one explanation is left
	Left     string     `json:"left,omitempty"`  // mean number left
	Steps    []StepJSON `json:"steps,omitempty"`
	Cut      bool       `json:"cut"`
}

// StepJSON is one jar of an adaptive plan.
type StepJSON struct {
	Jar    string  `json:"jar"` // its code
	Why    string  `json:"why"`
	Reacts EndJSON `json:"if_reacts"`
	Clear  EndJSON `json:"if_clear"`
}

// EndJSON is where a result leads.
type EndJSON struct {
	Step     int        `json:"step,omitempty"` // from 1; left out: the plan ends
	Possible int        `json:"possible"`
	Causes   [][]string `json:"causes,omitempty"`
}

// KitJSON is what has to be on the tables.
type KitJSON struct {
	Persons  int          `json:"persons"`
	Groups   int          `json:"groups"`
	Jars     int          `json:"jars"`
	Products []AmountJSON `json:"products"`
	Waters   []AmountJSON `json:"waters"`
	Vessels  CountJSON    `json:"vessels"`
	Tools    []CountJSON  `json:"tools"`
	Wear     []CountJSON  `json:"wear"`
	Other    []CountJSON  `json:"other"`
}

// AmountJSON is a total.
type AmountJSON struct {
	Name  string       `json:"name"`
	Cards string       `json:"cards"`
	Bring string       `json:"bring"`
	Unit  string       `json:"unit"`
	Salts []AmountJSON `json:"salts,omitempty"`
}

// CountJSON is a number of things.
type CountJSON struct {
	ID     mix.ID `json:"id"`
	Needed int    `json:"needed"`
	Spare  int    `json:"spare"`
}

func ml(v unit.Volume) jar.VolumeJSON { return jar.VolumeJSON{ML: v.Base().Fixed(3)} }

// list is never null in JSON.
func list[T any](all []T) []T {
	if all == nil {
		return []T{}
	}
	return all
}

// JSON returns a trial with its kit in the form of their JSON.
func (t *Trial) JSON(k *Kit) TrialJSON {
	j := TrialJSON{Question: t.Question, Seed: fmt.Sprint(t.Seed), Verdict: t.Verdict, Untested: t.Untested, Hazards: list(t.Hazards),
		Vessel: VesselJSON{ml(t.Vessel.Size), ml(t.Vessel.Fill)}, Turns: t.Routine.Inversions, Minutes: t.Time.Hands.Base().Short(1),
		Jars: []JarJSON{}, Stocks: []StockJSON{}, Plan: t.planJSON(), LeftOut: []string{}, Kit: t.kitJSON(k),
		Tolerance: t.Tolerance.Mul(unit.Int(100)).Short(2)}
	if t.Symptom != mix.NoSymptom {
		j.Symptom = &t.Symptom
	}
	if t.Replaced >= 0 {
		j.Replaced = t.Products[t.Replaced].Name
	}
	for _, r := range t.Routine.Readings {
		j.Readings = append(j.Readings, r.Base().Short(2))
	}
	for i := range t.LeftOut {
		j.LeftOut = append(j.LeftOut, t.misses(&t.LeftOut[i]))
	}
	for i := range t.Products {
		p := &t.Products[i]
		j.Products = append(j.Products, ProductJSON{p.Name, p.ID, p.Rate.String()})
	}
	for i := range t.Jars {
		j.Jars = append(j.Jars, t.jarJSON(&t.Jars[i]))
	}
	for _, s := range t.Stocks {
		j.Stocks = append(j.Stocks, StockJSON{t.Products[s.Product].Name, s.Times, s.Stock.JSON()})
	}
	return j
}

func (t *Trial) jarJSON(x *Jar) JarJSON {
	j := JarJSON{Code: x.Code, Run: x.Run, Block: x.Block, Role: x.Role, Says: t.Says(x), Products: list(t.Names(x.Products)), Water: x.Water,
		Order: x.Order, Opening: x.Opening, Hazards: list(x.Hazards), Card: x.Card.JSON()}
	if x.About >= 0 {
		j.About = t.Products[x.About].Name
	}
	return j
}

func (t *Trial) planJSON() *PlanJSON {
	p := t.Plan
	if p == nil {
		return nil
	}
	j := &PlanJSON{Records: p.Known, Assumed: p.Assumed, Possible: p.Possible, Cut: p.Cut}
	if len(p.Steps) == 0 {
		j.Alone, j.Left = fmt.Sprintf("%.4f", p.Alone), fmt.Sprintf("%.4f", p.Left)
	}
	for _, s := range p.Steps {
		j.Steps = append(j.Steps, StepJSON{t.Jars[s.Jar].Code, s.Why.String(), t.endJSON(s.Reacts), t.endJSON(s.Clear)})
	}
	return j
}

func (t *Trial) endJSON(e End) EndJSON {
	j := EndJSON{Step: e.Step + 1, Possible: e.Possible}
	for _, c := range e.Causes {
		j.Causes = append(j.Causes, t.Names(c))
	}
	return j
}

func (t *Trial) kitJSON(k *Kit) KitJSON {
	j := KitJSON{Persons: k.Persons, Groups: k.Groups, Jars: k.Jars, Products: []AmountJSON{}, Waters: []AmountJSON{},
		Vessels: CountJSON{"", k.Vessels.Needed, k.Vessels.Spare}, Tools: []CountJSON{}, Wear: things(k.Wear), Other: things(k.Other)}
	for _, p := range k.Products {
		j.Products = append(j.Products, AmountJSON{Name: t.Products[p.Product].Name, Cards: p.Cards.Base().Fixed(3),
			Bring: p.Bring.Base().Fixed(3), Unit: p.Cards.BaseUnit()})
	}
	for _, w := range k.Waters {
		a := AmountJSON{Name: string(w.Water), Cards: w.Cards.Base().Fixed(3), Bring: w.Bring.Base().Fixed(3), Unit: "mL"}
		for _, s := range w.Salts {
			a.Salts = append(a.Salts, AmountJSON{Name: s.Name, Cards: s.Pour.Exact.Base().Fixed(3), Bring: s.Pour.Poured.Base().Fixed(3), Unit: "g"})
		}
		j.Waters = append(j.Waters, a)
	}
	for _, x := range k.Tools {
		j.Tools = append(j.Tools, CountJSON{x.Tool.ID, x.Needed, x.Spare})
	}
	return j
}

func things(all []ItemCount) []CountJSON {
	j := []CountJSON{}
	for _, x := range all {
		j = append(j, CountJSON{x.Item.ID, x.Needed, x.Spare})
	}
	return j
}
