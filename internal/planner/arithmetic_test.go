package planner_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"tankleaf.example/internal/client"
	"tankleaf.example/internal/gas"
	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/planner"
	"tankleaf.example/internal/unit"
)

const (
	differentialCases = 100_000
	differentialBatch = 5_000
)

// TestArithmeticInBrowser asks Go and the client's script, bundled and run in a real
// Chromium, the same random questions. Every answer must be the same text.
func TestArithmeticInBrowser(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes ten seconds")
	}
	ctx := openTab(t, 5*time.Minute)
	script := filepath.Join(t.TempDir(), "differential.js")
	bundle(t, client.Bundle, "differential.ts", script)
	openScript(t, ctx, script)
	draw := &drawer{rand.New(rand.NewPCG(20260512, 1))}
	differ, tally := 0, map[string]int{}
	asked := 0
	for b := range draw.batches(differentialCases, differentialBatch) {
		got := askBrowser(t, ctx, b.cases)
		for i, c := range b.cases {
			tally[c[0]+" "+outcome(b.want[i])]++
			if got[i] != b.want[i] {
				if differ++; differ <= 10 {
					t.Errorf("%q\nGo      %s\nbrowser %s", c, b.want[i], got[i])
				}
			}
		}
		asked += len(got)
	}
	t.Logf("%d cases, %d differences, by kind %v", asked, differ, tally)
	if asked < differentialCases {
		t.Errorf("only %d cases", asked)
	}
	for _, kind := range []string{"parse", "recipe", "load", "convert", "fit", "active", "nozzle", "pace", "water", "standing", "gas"} {
		if tally[kind+" answered"] < 500 {
			t.Errorf("only %d cases of %s had an answer: the questions are too hard", tally[kind+" answered"], kind)
		}
	}
	if tally["parse refused"] < 1000 || tally["recipe problems"] < 500 || tally["load problems"] < 500 {
		t.Error("too few questions were refused")
	}
}

// outcome is what kind of an answer a text is.
func outcome(answer string) string {
	if first, _, _ := strings.Cut(answer, " "); first == "refused" || first == "problems" {
		return first
	}
	return "answered"
}

// batch is questions with Go's answers.
type batch struct {
	cases [][]string
	want  []string
}

func (d *drawer) batch(n int) batch {
	var b batch
	for range n {
		c := d.question()
		b.cases, b.want = append(b.cases, c), append(b.want, answerInGo(c))
	}
	return b
}

// batches draws questions and answers them in Go while the browser is at the batch
// before.
func (d *drawer) batches(all, each int) <-chan batch {
	c := make(chan batch, 1)
	go func() {
		defer close(c)
		for n := 0; n < all; n += each {
			c <- d.batch(each)
		}
	}()
	return c
}

// askBrowser puts questions to the script of the page.
func askBrowser(t testing.TB, ctx context.Context, cases [][]string) []string {
	t.Helper()
	got, err := chromedp.Run(ctx, chromedp.Evaluate[[]string]("answerAll("+asJSON(cases)+")"))
	if err != nil || len(got) != len(cases) {
		t.Fatalf("%d answers to %d questions, %v", len(got), len(cases), err)
	}
	return got
}

// answerInGo is answer of differential.ts.
func answerInGo(c []string) string {
	s, err := goKinds[c[0]](c[1:])
	var refusal *unit.SyntaxError
	var problem jar.Problem
	var problems jar.Problems
	switch {
	case err == nil:
		return s
	case errors.As(err, &refusal):
		return fmt.Sprintf("refused %s %d", refusal.Code, refusal.Offset)
	case errors.As(err, &problem):
		problems = jar.Problems{problem}
	case !errors.As(err, &problems):
		return "failed " + err.Error()
	}
	var list []string
	for _, p := range problems {
		list = append(list, string(p.Code)+":"+p.Product)
	}
	return "problems " + strings.Join(list, " ")
}

var goKinds map[string]func([]string) (string, error)

func init() {
	goKinds = map[string]func([]string) (string, error){
		"parse":   func(a []string) (string, error) { return goParsers[a[0]](a[1]) },
		"recipe":  goRecipe,
		"load":    goLoad,
		"convert": goConvert,
		"fit":     goFit,
		"active":  goActive,
		"nozzle":  goNozzle,
		"pace":    goPace,
		"water":   goWater, "standing": goStanding, "gas": goGas,
	}
}

// based is what every quantity has.
type based interface {
	fmt.Stringer
	Base() unit.Number
}

func spelled[Q based](parse func(string) (Q, error)) func(string) (string, error) {
	return func(s string) (string, error) {
		q, err := parse(s)
		if err != nil {
			return "", err
		}
		return q.String() + "|" + q.Base().Fixed(12), nil
	}
}

func plain(parse func(string) (unit.Number, error)) func(string) (string, error) {
	return func(s string) (string, error) {
		n, err := parse(s)
		return n.Short(9) + "|" + n.Fixed(12), err
	}
}

var goParsers = map[string]func(string) (string, error){
	"volume": spelled(unit.ParseVolume), "weight": spelled(unit.ParseMass), "area": spelled(unit.ParseArea),
	"length": spelled(unit.ParseLength), "density": spelled(unit.ParseDensity), "temperature": spelled(unit.ParseTemperature),
	"time": spelled(unit.ParseDuration), "flow": spelled(unit.ParseFlow), "speed": spelled(unit.ParseSpeed),
	"spray volume": spelled(unit.ParseSprayVolume), "content": spelled(unit.ParseContent), "rate": spelled(unit.ParseRate),
	"percentage": plain(unit.ParsePercent), "number": plain(unit.ParseNumber), "temperature rise": plain(unit.ParseRise),
	"amount": func(s string) (string, error) {
		a, err := unit.ParseAmount(s)
		return fmt.Sprintf("%v|%v|%s", a.Split(unit.US), a.Split(unit.Metric), a.Base().Fixed(12)), err
	},
	"strength": func(s string) (string, error) {
		st, err := unit.ParseStrength(s)
		return st.String(), err
	},
}

// asJSON writes a value as the browser's JSON.stringify does.
func asJSON(v any) string {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		panic(err)
	}
	return strings.TrimSuffix(b.String(), "\n")
}

func goRecipe(a []string) (string, error) {
	var in jar.RecipeInput
	if err := json.Unmarshal([]byte(a[0]), &in); err != nil {
		return "", err
	}
	q, err := in.Request()
	if err != nil {
		return "", err
	}
	r, err := q.Recipe()
	return asJSON(r.JSON()), err
}

func goLoad(a []string) (string, error) {
	var in jar.LoadInput
	if err := json.Unmarshal([]byte(a[0]), &in); err != nil {
		return "", err
	}
	q, err := in.Request()
	if err != nil {
		return "", err
	}
	p, err := q.Plan()
	if err != nil {
		return "", err
	}
	return asJSON(p.JSON()), nil
}

// asked reads texts and keeps the first refusal.
type asked struct{ err error }

func ask[T any](k *asked, s string, parse func(string) (T, error)) T {
	var zero T
	if s == "" || k.err != nil {
		return zero
	}
	v, err := parse(s)
	k.err = err
	return v
}

func goConvert(a []string) (string, error) {
	var k asked
	spray, density := ask(&k, a[2], unit.ParseSprayVolume), ask(&k, a[3], unit.ParseDensity)
	rate := ask(&k, a[0], unit.ParseRate)
	if k.err != nil {
		return "", k.err
	}
	out, ok := jar.Convert(rate, a[1], spray, density)
	if !ok {
		return "none", nil
	}
	return out.String(), nil
}

func goFit(a []string) (string, error) {
	var k asked
	spray, density := ask(&k, a[3], unit.ParseSprayVolume), ask(&k, a[4], unit.ParseDensity)
	some := ask(&k, "10 gal/ac", unit.ParseSprayVolume)
	rate := ask(&k, a[0], unit.ParseRate)
	label := mix.RateRange{Low: ask(&k, a[1], unit.ParseRate), High: ask(&k, a[2], unit.ParseRate)}
	p := jar.Product{SprayVolume: [2]unit.SprayVolume{some}}
	return fmt.Sprint(jar.FitRate(rate, label, spray, density), " ", p.FitSprayVolume(spray)), k.err
}

func goActive(a []string) (string, error) {
	var k asked
	rate, content := ask(&k, a[0], unit.ParseRate), ask(&k, a[1], unit.ParseStrength)
	density := ask(&k, a[3], unit.ParseDensity)
	if k.err != nil {
		return "", k.err
	}
	out, err := jar.FromActive(rate, content, a[2], density)
	return out.String(), err
}

func goNozzle(a []string) (string, error) {
	var k asked
	flow, speed := ask(&k, a[0], unit.ParseFlow), ask(&k, a[1], unit.ParseSpeed)
	spacing, density := ask(&k, a[2], unit.ParseLength), ask(&k, a[3], unit.ParseDensity)
	if k.err != nil {
		return "", k.err
	}
	put := jar.SprayVolumeOf(flow, speed, spacing)
	needed := jar.FlowFor(put.Times(unit.Frac(3, 2)), speed, spacing)
	return bases(put, needed, jar.SpeedFor(needed, put, spacing), jar.FlowOfWater(flow, density), jar.FlowOfCarrier(flow, density)), nil
}

func goPace(a []string) (string, error) {
	var k asked
	distance, width := ask(&k, a[0], unit.ParseLength), ask(&k, a[1], unit.ParseLength)
	time, volume := ask(&k, a[2], unit.ParseDuration), ask(&k, a[3], unit.ParseVolume)
	if k.err != nil {
		return "", k.err
	}
	speed, area := jar.SpeedOver(distance, time), jar.Swath(distance, width)
	return bases(speed, jar.Travel(width, speed), area, jar.Applied(volume, area)), nil
}

func bases(list ...based) string {
	var out []string
	for _, q := range list {
		out = append(out, q.Base().Fixed(12))
	}
	return strings.Join(out, " ")
}

func goWater(a []string) (string, error) {
	values := make([]mix.Value, 5)
	for i, s := range a {
		if s == "" {
			continue
		}
		n, err := unit.ParseNumber(s)
		if err != nil {
			return "", err
		}
		values[i] = mix.Known(n)
	}
	hardness := jar.HardnessOf(unit.PartPerMillion.Of(values[2].N), unit.PartPerMillion.Of(values[3].N)).Base().Fixed(12)
	c, ok := jar.AmmoniumSulfate(jar.Ions{Potassium: values[0], Sodium: values[1], Calcium: values[2], Magnesium: values[3], Iron: values[4]})
	if !ok {
		return "none|" + hardness, nil
	}
	return c.Rate.String() + " without " + strings.Join(c.Missing, ",") + "|" + hardness, nil
}

// nine writes nine figures of a float as the browser does.
func nine(n float64) string {
	if math.IsInf(n, 1) {
		return "endless"
	}
	s := strconv.FormatFloat(n, 'e', 8, 64)
	return strings.Replace(strings.Replace(s, "e+0", "e+", 1), "e-0", "e-", 1)
}

var reaches = map[jar.Reach]string{jar.Published: "published", jar.Interpolated: "interpolated", jar.CalledStable: "stable"}

func goStanding(a []string) (string, error) {
	var points [][]planner.HalfPoint
	if err := json.Unmarshal([]byte(a[2]), &points); err != nil {
		return "", err
	}
	var records []*mix.HalfLife
	for _, list := range points {
		h := &mix.HalfLife{}
		for _, p := range list {
			point := mix.HalfPoint{PH: [2]unit.Number{decimalOf(p.PH[0]), decimalOf(p.PH[1])}, Stable: p.Stable}
			if p.Low != 0 {
				point.Low = mix.Bound{Set: true, Value: decimalOf(p.Low)}
			}
			if p.High != 0 {
				point.High = mix.Bound{Set: true, Value: decimalOf(p.High)}
			}
			h.Points = append(h.Points, point)
		}
		records = append(records, h)
	}
	ph, minutes := must(unit.ParseNumber(a[0])), must(unit.ParseNumber(a[1]))
	s := jar.StandingAt(records, ph)
	var said []string
	for _, l := range s.Lives {
		said = append(said, reaches[l.Reach])
	}
	out := []string{fmt.Sprint(s.Known), fmt.Sprint(s.Silent), strings.Join(said, ","), nine(s.Low), nine(s.High)}
	if least, most, ok := s.Left(unit.Minute.Of(minutes)); ok {
		out = append(out, nine(least), nine(most))
	}
	return strings.Join(out, " "), nil
}

// decimalOf returns a number of few decimals exactly as it is written.
func decimalOf(n float64) unit.Number {
	return must(unit.ParseNumber(strconv.FormatFloat(n, 'f', -1, 64)))
}

func goGas(a []string) (string, error) {
	n := make([]float64, len(a))
	for i := range a {
		n[i] = must(strconv.ParseFloat(a[i], 64))
	}
	moles := n[0] / 84.007
	rise, ok := gas.Enclosed{Liquid: n[1], Headspace: n[2], Celsius: n[3]}.Pressure(moles)
	if !ok {
		return nine(gas.Volume(moles, n[3])) + " none", nil
	}
	return nine(gas.Volume(moles, n[3])) + " " + nine(rise), nil
}
