package sheet

import (
	"fmt"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
	"tankleaf.example/internal/yamlpos"
)

// Limits on what one block can show.
const (
	maxMatrix = 12 // classes along one side
	maxMix    = 8  // items of a mix
)

// blockReader reads the body of one kind of block and checks it.
type blockReader func(r *reading, at diag.Pos, n yamlpos.Node) Block

// blockReaders are the words that may follow a fence and bring in the dataset.
var blockReaders map[string]blockReader

func init() {
	blockReaders = map[string]blockReader{
		"matrix":      reader(matrixKind, (*reading).checkMatrix),
		"verdict":     reader(verdictKind, (*reading).checkVerdict),
		"recipe":      reader(recipeKind, (*reading).checkRecipe),
		"observation": reader(observationKind, (*reading).checkObservation),
		"source":      reader(sourceKind, (*reading).checkSource),
		"caution":     reader(cautionKind, nil),
	}
}

// blockOf is a pointer to a block's struct.
type blockOf[T any] interface {
	*T
	Block
	start(diag.Pos)
}

func (f *fence) start(at diag.Pos) { f.At = at }

func reader[T any, P blockOf[T]](k yamlpos.Kind[T], check func(*reading, P)) blockReader {
	return func(r *reading, at diag.Pos, n yamlpos.Node) Block {
		v, ok := k.Read(n)
		if !ok {
			return nil
		}
		p := P(&v)
		p.start(at)
		if check != nil {
			check(r, p)
		}
		return p
	}
}

var matrixKind = yamlpos.Object[MatrixBlock]{
	Name: "matrix",
	Doc:  "A cut-out of the class matrix",
	Fields: []yamlpos.Field[MatrixBlock]{
		yamlpos.Must("classes", idsKind, func(b *MatrixBlock, v []mix.Ref) { b.Classes = v }, "[class ids], the rows"),
		yamlpos.May("against", idsKind, func(b *MatrixBlock, v []mix.Ref) { b.Against = v }, "[class ids], the columns; left out: the rows again"),
		yamlpos.May("caption", line("a caption", 200), func(b *MatrixBlock, v string) { b.Caption = v }, "one line under it"),
	},
	Check: func(b *MatrixBlock, found yamlpos.Found) {
		if found.Has("classes") && !found.Has("against") && len(b.Classes) < 2 {
			found.At("classes").Problem("matrix of one class", "name two or more, or add against: [...]")
		}
		for key, side := range map[string][]mix.Ref{"classes": b.Classes, "against": b.Against} {
			if len(side) > maxMatrix {
				found.At(key).Problem(fmt.Sprintf("matrix with %d classes along one side, more than %d", len(side), maxMatrix), "link to the whole matrix instead")
			}
			if found.Has(key) && len(side) == 0 {
				found.At(key).Problem("list of no classes", "")
			}
		}
	},
}.Kind()

func (r *reading) checkMatrix(b *MatrixBlock) {
	for _, side := range [][]mix.Ref{b.Classes, b.Against} {
		r.each(side, ToClass)
	}
}

// each checks and remembers references of one kind, each of them once.
func (r *reading) each(refs []mix.Ref, kinds ...Record) {
	seen := map[mix.ID]diag.Pos{}
	for _, ref := range refs {
		if old, again := seen[ref.ID]; again {
			r.problems.Add(ref.At, fmt.Sprintf("%q is listed twice", ref.ID), "remove one of the two", "first listed at "+old.String())
			continue
		}
		seen[ref.ID] = ref.At
		r.refer(ref, kinds...)
	}
}

// refer checks a reference and remembers it for the pages of what is mentioned.
func (r *reading) refer(ref mix.Ref, kinds ...Record) {
	if ref.ID == "" {
		return // its own problem was reported
	}
	if to, ok := r.names.check(ref.At, ref.ID, r.problems, kinds...); ok {
		r.sheet.Links = append(r.sheet.Links, Target{At: ref.At, To: to, ID: ref.ID})
	}
}

var verdictKind = yamlpos.Object[VerdictBlock]{
	Name: "verdict",
	Doc:  "The verdict of one mix, with its trace",
	Fields: []yamlpos.Field[VerdictBlock]{
		yamlpos.Must("mix", idsKind, func(b *VerdictBlock, v []mix.Ref) { b.Mix = v }, "[ids of classes or products]"),
		yamlpos.May("situation", situationKind, func(b *VerdictBlock, v situation) { b.Situation, b.Given, b.refs = v.Situation, true, v }, "what is known of water, vessel, place and time"),
		yamlpos.May("note", noteKind, func(b *VerdictBlock, v string) { b.Note = v }, "a sentence beside it"),
	},
	Check: func(b *VerdictBlock, found yamlpos.Found) {
		if found.Has("mix") && len(b.Mix) < 2 {
			found.At("mix").Problem("mix of fewer than two items", "name two or more classes or products")
		}
		if len(b.Mix) > maxMix {
			found.At("mix").Problem(fmt.Sprintf("mix of %d items, more than %d", len(b.Mix), maxMix), "show the pairs that matter")
		}
	},
}.Kind()

func (r *reading) checkVerdict(b *VerdictBlock) {
	r.each(b.Mix, ToClass, ToProduct)
	r.checkSituation(b)
}

var recipeKind = yamlpos.Object[RecipeBlock]{
	Name: "recipe",
	Doc:  "A jar recipe: one of data/recipes.yaml by its id, or one written in place",
	Fields: []yamlpos.Field[RecipeBlock]{
		yamlpos.May("id", idKind, func(b *RecipeBlock, v mix.Ref) { b.ID = v }, "the id of a recipe"),
		yamlpos.May("title", line("a title", 90), func(b *RecipeBlock, v string) { b.title = v }, "what the jar is for"),
		yamlpos.May("products", yamlpos.AtLeast(1, "products", yamlpos.List("products", portionKind)), func(b *RecipeBlock, v []mix.Portion) { b.Recipe.Products = v }, "[{product: id, rate: 5 lb/ac}]"),
		yamlpos.May("jar", quantity("a volume", unit.ParseVolume), func(b *RecipeBlock, v unit.Volume) { b.Recipe.Jar = v }, "finished volume, such as 1 qt"),
		yamlpos.May("spray_volume", quantity("a spray volume", unit.ParseSprayVolume), func(b *RecipeBlock, v unit.SprayVolume) { b.Recipe.SprayVolume = v }, "such as 100 gal/ac"),
		yamlpos.May("water_share", quantity("a percentage", unit.ParsePercent), func(b *RecipeBlock, v unit.Number) { b.Recipe.WaterShare = v }, "below 100 %: crowded fill"),
		yamlpos.May("water", idKind, func(b *RecipeBlock, v mix.Ref) { b.Recipe.Water = v }, "the id of a measured water"),
		yamlpos.May("note", noteKind, func(b *RecipeBlock, v string) { b.Note = v }, "a sentence beside it"),
	},
	Check: checkRecipeKeys,
}.Kind()

var portionKind = yamlpos.Object[mix.Portion]{
	Name: "product of a recipe",
	Doc:  "A product and its field rate",
	Fields: []yamlpos.Field[mix.Portion]{
		yamlpos.Must("product", idKind, func(p *mix.Portion, v mix.Ref) { p.Ref = v }, "the id of a product"),
		yamlpos.Must("rate", quantity("a rate", unit.ParseRate), func(p *mix.Portion, v unit.Rate) { p.Rate = v }, "such as 1.5 pt/ac or 2 lb/100 gal"),
	},
}.Kind()

// checkRecipeKeys tells the two forms of a recipe apart.
func checkRecipeKeys(b *RecipeBlock, found yamlpos.Found) {
	inPlace := []string{"title", "products", "jar", "spray_volume", "water_share", "water"}
	if found.Has("id") {
		for _, key := range inPlace {
			if found.Has(key) {
				found.At(key).Problem(fmt.Sprintf("recipe with an id has no key %q", key), "the recipe of that id has its own; remove one of the two")
			}
		}
		return
	}
	for _, key := range []string{"products", "jar"} {
		if !found.Has(key) {
			found.Problem(fmt.Sprintf("recipe without %q", key), "add it, or id: with the id of a recipe in data/recipes.yaml")
		}
	}
	for _, p := range b.Recipe.Products {
		if p.Rate.Basis().PerArea() && !found.Has("spray_volume") {
			found.Problem(fmt.Sprintf("recipe without \"spray_volume\" for the rate %q", p.Rate), "add spray_volume: 100 gal/ac, or whatever the sprayer puts out")
			break
		}
	}
	if found.Has("water_share") && b.Recipe.WaterShare.Sign() == 0 {
		found.At("water_share").Problem("recipe without any water", "write more than 0 %")
	}
}

func (r *reading) checkRecipe(b *RecipeBlock) {
	if b.ID.ID != "" {
		r.refer(b.ID, ToRecipe)
		return
	}
	b.Recipe.At = b.At
	if b.Recipe.WaterShare.Sign() == 0 {
		b.Recipe.WaterShare = unit.Int(1)
	}
	if b.title != "" {
		b.Recipe.Title = mix.Text{r.sheet.Lang: b.title}
	}
	var products []mix.Ref
	for _, p := range b.Recipe.Products {
		products = append(products, p.Ref)
	}
	r.each(products, ToProduct)
	r.refer(b.Recipe.Water, ToWater)
}

var observationKind = yamlpos.Object[ObservationBlock]{
	Name: "observation",
	Doc:  "One jar or field report",
	Fields: []yamlpos.Field[ObservationBlock]{
		yamlpos.Must("id", idKind, func(b *ObservationBlock, v mix.Ref) { b.ID = v }, "the id of an observation"),
		yamlpos.May("record", yamlpos.Bool(), func(b *ObservationBlock, v bool) { b.Record = v }, "true: show the record's own text as well"),
		yamlpos.May("note", noteKind, func(b *ObservationBlock, v string) { b.Note = v }, "a sentence beside it"),
	},
}.Kind()

func (r *reading) checkObservation(b *ObservationBlock) { r.refer(b.ID, ToObservation) }

var sourceKind = yamlpos.Object[SourceBlock]{
	Name: "source",
	Doc:  "A citation set apart from the text",
	Fields: []yamlpos.Field[SourceBlock]{
		yamlpos.Must("id", idKind, func(b *SourceBlock, v mix.Ref) { b.Ref = v }, "the id of a source"),
		yamlpos.May("place", line("a place", 80), func(b *SourceBlock, v string) { b.Place = v }, "where in it, such as table 3"),
		yamlpos.May("note", noteKind, func(b *SourceBlock, v string) { b.Note = v }, "what it says"),
	},
}.Kind()

func (r *reading) checkSource(b *SourceBlock) { r.refer(b.Ref, ToSource) }

var hazardWords = func() []string {
	var all []string
	for _, h := range mix.Hazards() {
		all = append(all, h.String())
	}
	return all
}()

var cautionKind = yamlpos.Object[CautionBlock]{
	Name: "caution",
	Doc:  "The safety text for a hazard",
	Fields: []yamlpos.Field[CautionBlock]{
		yamlpos.Must("hazard", yamlpos.Words("hazard", hazardWords, mix.ParseHazard), func(b *CautionBlock, v mix.Hazard) { b.Hazard = v }, "the hazard it warns of"),
		yamlpos.May("note", noteKind, func(b *CautionBlock, v string) { b.Note = v }, "a sentence beside it"),
	},
}.Kind()
