package mix

import (
	"maps"
	"slices"
)

// Form is a formulation code of the international two-letter system (CropLife
// International, Technical Monograph 2, 7th edition, revised 2017; also used by
// FAO and WHO). "" is no code, as for water.
type Form string

// forms maps each code to its meaning. From the list in the monograph as
// transcribed in the reference read; the codes that never meet a spray tank are
// kept, so that a typing error is told from a wrong use.
var forms = map[Form]string{
	"AE": "aerosol dispenser", "AL": "other liquid, used undiluted", "AP": "other product, used undiluted", "BR": "briquette",
	"CB": "bait concentrate", "CP": "contact powder", "CS": "capsule suspension",
	"DC": "dispersible concentrate", "DP": "dustable powder", "DS": "powder for dry seed treatment",
	"DT": "tablet for direct use", "EC": "emulsifiable concentrate", "EG": "emulsifiable granule",
	"EO": "water-in-oil emulsion", "EP": "emulsifiable powder", "ES": "emulsion for seed treatment",
	"EW": "oil-in-water emulsion", "FS": "flowable for seed treatment", "FU": "smoke generator",
	"GA": "gas", "GD": "gel for direct use", "GE": "gas-generating product", "GL": "emulsifiable gel", "GR": "granule",
	"GS": "grease", "GW": "water-soluble gel", "HN": "hot-fogging concentrate",
	"KK": "combined pack, solid and liquid", "KL": "combined pack, two liquids", "KN": "cold-fogging concentrate",
	"LB": "long-lasting storage bag", "LN": "long-lasting insecticidal net", "LS": "solution for seed treatment", "MC": "mosquito coil", "ME": "micro-emulsion",
	"MR": "matrix release",
	"OD": "oil dispersion", "OF": "oil-miscible flowable", "OL": "oil-miscible liquid",
	"OP": "oil-dispersible powder", "PA": "paste", "PR": "plant rodlet", "RB": "ready bait", "SC": "suspension concentrate",
	"SD": "suspension concentrate for direct application", "SE": "suspo-emulsion",
	"SG": "water-soluble granule", "SL": "soluble concentrate", "SO": "spreading oil",
	"SP": "water-soluble powder", "ST": "water-soluble tablet", "SU": "ultra-low-volume suspension",
	"TB": "tablet", "TC": "technical material", "TK": "technical concentrate", "UL": "ultra-low-volume liquid",
	"VP": "vapor-releasing product", "WG": "water-dispersible granule", "WP": "wettable powder",
	"WS": "slurry powder for seed treatment", "WT": "water-dispersible tablet", "XX": "other",
	"ZC": "mixed CS and SC", "ZE": "mixed CS and SE", "ZW": "mixed CS and EW",
}

// tankForms are the codes of what is diluted in a spray tank, and whether the
// concentrate is a solid that is weighed.
var tankForms = map[Form]bool{
	"CS": false, "DC": false, "EC": false, "EG": true, "EO": false, "EP": true, "EW": false, "GL": false,
	"GW": false, "ME": false, "OD": false, "SC": false, "SE": false, "SG": true, "SL": false, "SO": false,
	"SP": true, "ST": true, "WG": true, "WP": true, "WT": true, "ZC": false, "ZE": false, "ZW": false,
	"XX": false,
}

// tradeForms maps the letters that US labels use to the international code.
// From memory; no admissible list was read.
var tradeForms = map[string]Form{"F": "SC", "FL": "SC", "L": "SC", "DF": "WG", "WDG": "WG", "E": "EC", "S": "SL"}

// Known reports whether f is on the international list.
func (f Form) Known() bool { return forms[f] != "" }

// ForTank reports whether f is diluted in a spray tank.
func (f Form) ForTank() bool { _, ok := tankForms[f]; return ok }

// Solid reports whether the concentrate is weighed, not poured.
func (f Form) Solid() bool { return tankForms[f] }

// Meaning returns the English words of the international list.
func (f Form) Meaning() string { return forms[f] }

// Forms lists all codes in alphabetical order.
func Forms() []Form { return slices.Sorted(maps.Keys(forms)) }

// FormFor returns the international code for letters a US label uses, if any.
func FormFor(trade string) (Form, bool) { f, ok := tradeForms[trade]; return f, ok }
