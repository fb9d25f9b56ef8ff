package jar

import (
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// decimals of every amount in JSON, rounded once by [unit.Number.Round].
const decimals = 3

// The JSON of recipes and plans. Every amount is a decimal string with three
// decimals in mL, g or m², whatever units a reader sees.

// VolumeJSON is a volume.
type VolumeJSON struct {
	ML string `json:"ml"`
}

// AreaJSON is an area, also in the units in which land is spoken of.
type AreaJSON struct {
	M2 string `json:"m2"`
	Ac string `json:"ac"`
	Ha string `json:"ha"`
}

// ItemJSON is one product of a recipe, a load or a total.
type ItemJSON struct {
	Name   string `json:"name"`
	ID     mix.ID `json:"id,omitempty"`
	Amount string `json:"amount"`
	Unit   string `json:"unit"`            // "mL" or "g"
	Takes  string `json:"takes,omitempty"` // mL it adds; left out when not known
	Rate   string `json:"rate"`            // as it was written
	Label  string `json:"label"`           // "not-checked", "within", "below" or "above"
	Spray  string `json:"spray_label"`     // the spray volume against its label, in the same words
	Step   mix.ID `json:"step,omitempty"`  // of the order table; left out when none claims it
	Reason string `json:"reason"`          // "not-known", "form", "class", "bag" or "label"
	Class  mix.ID `json:"class,omitempty"` // the class that decided
}

// RecipeJSON is one jar; its items stand in order of addition.
type RecipeJSON struct {
	Jar         VolumeJSON `json:"jar"`
	SprayVolume string     `json:"spray_volume,omitempty"` // "15 gal/ac"
	WaterShare  string     `json:"water_share"`            // "1.000" is full water
	Finished    VolumeJSON `json:"finished"`
	Water       VolumeJSON `json:"water"`
	FirstWater  VolumeJSON `json:"first_water"`
	TopUp       VolumeJSON `json:"top_up"`
	Items       []ItemJSON `json:"items"`
}

// LoadJSON is one fill of the sprayer; its items stand in order of addition.
type LoadJSON struct {
	Area       AreaJSON   `json:"area"`
	Volume     VolumeJSON `json:"volume"` // mixed for this load
	Fill       VolumeJSON `json:"fill"`   // in the tank when ready
	Full       bool       `json:"full"`
	Water      VolumeJSON `json:"water"`
	FirstWater VolumeJSON `json:"first_water"`
	TopUp      VolumeJSON `json:"top_up"`
	Items      []ItemJSON `json:"items"`
}

// PlanJSON is the loads of a job.
type PlanJSON struct {
	Area         AreaJSON   `json:"area"`
	SprayVolume  string     `json:"spray_volume"`
	AreaPerLoad  AreaJSON   `json:"area_per_load"`
	Loads        []LoadJSON `json:"loads"`
	Total        []ItemJSON `json:"total"`
	LeftOver     VolumeJSON `json:"left_over"`
	Evened       bool       `json:"evened"`
	BelowMinimum bool       `json:"below_minimum"`
}

// ProblemJSON is one problem.
type ProblemJSON struct {
	Code    Code   `json:"code"`
	Product string `json:"product,omitempty"`
	Msg     string `json:"msg"`
	Hint    string `json:"hint"`
}

func volumeJSON(v unit.Volume) VolumeJSON { return VolumeJSON{v.Base().Fixed(decimals)} }

func areaJSON(a unit.Area) AreaJSON {
	return AreaJSON{M2: a.Base().Fixed(decimals), Ac: a.In(unit.Acre).Fixed(decimals), Ha: a.In(unit.Hectare).Fixed(decimals)}
}

func itemsJSON(doses []Dose) []ItemJSON {
	items := make([]ItemJSON, 0, len(doses))
	for _, d := range doses {
		it := ItemJSON{Name: d.Product.Name, ID: d.Product.ID, Amount: d.Amount.Base().Fixed(decimals),
			Unit: d.Amount.BaseUnit(), Rate: d.Product.Rate.String(), Label: d.Label.String(),
			Spray:  d.SprayLabel.String(),
			Reason: d.Place.Reason.String(), Class: d.Place.Class}
		if d.TakesKnown {
			it.Takes = d.Takes.Base().Fixed(decimals)
		}
		if d.Place.Step != nil {
			it.Step = d.Place.Step.ID
		}
		items = append(items, it)
	}
	return items
}

// JSON returns the recipe in the form of its JSON.
func (r Recipe) JSON() RecipeJSON {
	j := RecipeJSON{Jar: volumeJSON(r.Jar), WaterShare: r.WaterShare.Fixed(decimals), Finished: volumeJSON(r.Finished),
		Water: volumeJSON(r.Water), FirstWater: volumeJSON(r.FirstWater), TopUp: volumeJSON(r.TopUp),
		Items: itemsJSON(r.Doses)}
	if !r.SprayVolume.IsZero() {
		j.SprayVolume = r.SprayVolume.String()
	}
	return j
}

// JSON returns the plan in the form of its JSON.
func (p Plan) JSON() PlanJSON {
	j := PlanJSON{Area: areaJSON(p.Area), SprayVolume: p.SprayVolume.String(), AreaPerLoad: areaJSON(p.AreaPerLoad),
		Loads: []LoadJSON{}, Total: itemsJSON(p.Total), LeftOver: volumeJSON(p.LeftOver), Evened: p.Evened,
		BelowMinimum: p.BelowMinimum}
	for _, l := range p.Loads {
		j.Loads = append(j.Loads, LoadJSON{Area: areaJSON(l.Area), Volume: volumeJSON(l.Volume), Fill: volumeJSON(l.Fill),
			Full: l.Full, Water: volumeJSON(l.Water), FirstWater: volumeJSON(l.FirstWater), TopUp: volumeJSON(l.TopUp),
			Items: itemsJSON(l.Doses)})
	}
	return j
}

// JSON returns the problems in the form of their JSON.
func (p Problems) JSON() []ProblemJSON {
	j := []ProblemJSON{}
	for _, one := range p {
		j = append(j, ProblemJSON(one))
	}
	return j
}
