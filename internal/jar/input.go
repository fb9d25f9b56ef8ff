package jar

import (
	"errors"
	"fmt"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// The texts of a request, as a person or the page writes them. Quantities are in
// the grammar of the package unit; what is left empty is not stated.

// ProductInput is a product with its rate.
type ProductInput struct {
	Name     string    `json:"name"`
	Rate     string    `json:"rate"`
	Form     string    `json:"form,omitempty"`     // international code
	State    string    `json:"state,omitempty"`    // "liquid", "dry" or left out
	Density  string    `json:"density,omitempty"`  // "1.2 g/mL"
	Bag      bool      `json:"bag,omitempty"`      // in a water-soluble bag
	Position int       `json:"position,omitempty"` // the label's own, from 1
	Classes  []mix.ID  `json:"classes,omitempty"`
	Range    [2]string `json:"range,omitzero"`       // of the label: low, high
	Spray    [2]string `json:"spray_range,omitzero"` // spray volume of the label: low, high
}

// StepInput is a step of the order table.
type StepInput struct {
	ID      mix.ID     `json:"id"`
	Bags    bool       `json:"bags,omitempty"`
	Forms   []mix.Form `json:"forms,omitempty"`
	Classes []mix.ID   `json:"classes,omitempty"`
}

// RecipeInput asks for one jar.
type RecipeInput struct {
	Jar         string         `json:"jar"`
	SprayVolume string         `json:"spray_volume,omitempty"`
	WaterShare  string         `json:"water_share,omitempty"` // "25 %"; left out: full water
	FirstWater  string         `json:"first_water,omitempty"` // "50 %"; left out: products first
	Products    []ProductInput `json:"products"`
	Steps       []StepInput    `json:"steps,omitempty"`
}

// LoadInput asks for the loads of a job.
type LoadInput struct {
	Area        string         `json:"area"`
	SprayVolume string         `json:"spray_volume"`
	Tank        string         `json:"tank"`
	MaxFill     string         `json:"max_fill,omitempty"`
	Minimum     string         `json:"minimum,omitempty"`
	Heel        string         `json:"heel,omitempty"`
	FirstWater  string         `json:"first_water,omitempty"`
	Products    []ProductInput `json:"products"`
	Steps       []StepInput    `json:"steps,omitempty"`
}

// reader reads texts and gathers what is wrong with them.
type reader struct{ ps Problems }

// take reads one text; an empty one is left zero.
func take[T any](r *reader, product, s string, parse func(string) (T, error)) T {
	var zero T
	if s == "" {
		return zero
	}
	v, err := parse(s)
	if err == nil {
		return v
	}
	var se *unit.SyntaxError
	var p Problem
	switch {
	case errors.As(err, &se):
		r.ps.add(BadText, product, se.Msg, se.Hint)
	case errors.As(err, &p):
		r.ps.add(p.Code, product, p.Msg, p.Hint)
	default:
		panic(fmt.Sprintf("jar: %T from a parser", err))
	}
	return zero
}

// Request reads the texts. What cannot be read gives [Problems].
func (in RecipeInput) Request() (Request, error) {
	var r reader
	q := Request{
		Jar:         take(&r, "", in.Jar, unit.ParseVolume),
		SprayVolume: take(&r, "", in.SprayVolume, unit.ParseSprayVolume),
		WaterShare:  take(&r, "", in.WaterShare, parseShare),
		FirstWater:  take(&r, "", in.FirstWater, unit.ParsePercent),
		Products:    r.products(in.Products),
		Steps:       steps(in.Steps),
	}
	return q, r.ps.err()
}

// Request reads the texts. What cannot be read gives [Problems].
func (in LoadInput) Request() (LoadRequest, error) {
	var r reader
	q := LoadRequest{
		Area:        take(&r, "", in.Area, unit.ParseArea),
		SprayVolume: take(&r, "", in.SprayVolume, unit.ParseSprayVolume),
		Tank:        take(&r, "", in.Tank, unit.ParseVolume),
		MaxFill:     take(&r, "", in.MaxFill, unit.ParseVolume),
		Minimum:     take(&r, "", in.Minimum, unit.ParseVolume),
		Heel:        take(&r, "", in.Heel, unit.ParseVolume),
		FirstWater:  take(&r, "", in.FirstWater, unit.ParsePercent),
		Products:    r.products(in.Products),
		Steps:       steps(in.Steps),
	}
	return q, r.ps.err()
}

// parseShare reads the share of water in a jar, which is never nothing.
func parseShare(s string) (unit.Number, error) {
	n, err := unit.ParsePercent(s)
	if err == nil && n.Sign() == 0 {
		err = &unit.SyntaxError{Code: unit.Zero, Msg: fmt.Sprintf("share of water %q is none at all", s),
			Hint: `write "25 %" or leave it out for full water`}
	}
	return n, err
}

func (r *reader) products(in []ProductInput) []Product {
	var out []Product
	for _, p := range in {
		q := Product{Name: p.Name, Bag: p.Bag, Position: p.Position, Classes: p.Classes,
			Rate:    take(r, p.Name, p.Rate, unit.ParseRate),
			Density: take(r, p.Name, p.Density, unit.ParseDensity),
			Form:    take(r, p.Name, p.Form, parseForm),
			State:   take(r, p.Name, p.State, parseState),
			Range: mix.RateRange{Low: take(r, p.Name, p.Range[0], unit.ParseRate),
				High: take(r, p.Name, p.Range[1], unit.ParseRate)},
			SprayVolume: [2]unit.SprayVolume{take(r, p.Name, p.Spray[0], unit.ParseSprayVolume),
				take(r, p.Name, p.Spray[1], unit.ParseSprayVolume)},
		}
		out = append(out, q)
	}
	return out
}

func parseForm(s string) (mix.Form, error) {
	f := mix.Form(s)
	if known, ok := mix.FormFor(s); ok {
		return f, Problem{Code: BadCode, Msg: fmt.Sprintf("%q is no formulation code", s), Hint: fmt.Sprintf("write %q", string(known))}
	}
	if !f.ForTank() {
		return f, Problem{Code: BadCode, Msg: fmt.Sprintf("%q is no formulation code of a spray tank", s),
			Hint: `write an international code such as "EC", "SC" or "WG"`}
	}
	return f, nil
}

func parseState(s string) (State, error) {
	st, ok := ParseState(s)
	if !ok {
		return st, Problem{Code: BadState, Msg: fmt.Sprintf("%q is neither liquid nor dry", s), Hint: `write "liquid" or "dry"`}
	}
	return st, nil
}

func steps(in []StepInput) []mix.OrderStep {
	var out []mix.OrderStep
	for _, s := range in {
		o := mix.OrderStep{ID: s.ID, Bags: s.Bags, Forms: s.Forms}
		for _, c := range s.Classes {
			o.Classes = append(o.Classes, mix.Ref{ID: c})
		}
		out = append(out, o)
	}
	return out
}
