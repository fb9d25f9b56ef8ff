package dataset_test

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"golang.org/x/tools/txtar"
	"pgregory.net/rapid"
	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// office returns the small office as files that a test may change.
func office(t testing.TB) fstest.MapFS {
	t.Helper()
	fsys := fstest.MapFS{}
	for _, f := range archive(t, fineDir+"/office.txtar").Files {
		fsys[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	return fsys
}

// TestBook looks at what was read: values in their base units, words as
// enumerations, places.
func TestBook(t *testing.T) {
	b, problems := dataset.Load(office(t))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	x := mix.NewIndex(b)
	sourwell, gas, jar, well := x.Product("sourwell"), x.Interaction("carbonate-with-acid"), x.Observation("ob-1"), x.Water("well")
	oil, potash := x.Interaction("oil-with-hard-water"), b.HalfLivesOf("potassium bicarbonate")[0]
	for _, c := range []struct {
		got, want any
		why       string
	}{
		{sourwell.Density, unit.GramPerMilliliter.Of(unit.Frac(12, 10)), "a density"},
		{sourwell.Dry, false, "a soluble concentrate is poured"},
		{x.Product("ashdown").Dry, true, "a soluble powder is weighed"},
		{x.Product("oilstone").Dry, false, "XX by its state"},
		{sourwell.Rate.Low.Unit(), "lb/100 gal", "the unit as written"},
		{sourwell.At.String(), "data/products.yaml:17:5", "the place of a record"},
		{sourwell.Classes[0].At.String(), "data/products.yaml:17:122", "the place of a reference"},
		{gas.Verdict, mix.Never, "a verdict"},
		{gas.When[0].Low, mix.Bound{Set: true, Value: unit.Int(10)}, "a range whose unit stands once"},
		{gas.When[0].High, mix.Bound{Set: true, Value: unit.Int(40)}, "its upper end"},
		{gas.When[1].Ref.ID, mix.ID("closed"), "a vessel"},
		{oil.When[2].High, mix.Bound{Set: true, Open: true, Value: unit.Frac(65, 10)}, "below"},
		{oil.When[3].High, mix.Bound{Set: true, Value: unit.Frac(1, 2)}, "a share is a fraction"},
		{oil.When[4].Low, mix.Bound{Set: true, Value: unit.Int(120)}, "hours in minutes"},
		{oil.When[8].Low, mix.Bound{Set: true, Value: unit.Int(200)}, "one sign for at least"},
		{x.Class("acid").Name, mix.Text{"en": "Acid", "es": "Ácido"}, "text by language"},
		{x.Class("carbonate").Name, mix.Text{"en": "Carbonate"}, "plain text is in the office's language"},
		{x.Notice("no-acid-upriver").From, mix.Date{Year: 2027, Month: 1, Day: 1}, "a notice may begin after the day of publication"},
		{well.Hardness, mix.Known(unit.Int(20).Mul(unit.GrainPerGallon.Of(unit.Int(1)).In(unit.PartPerMillion))), "grains per gallon in ppm"},
		{well.Bicarbonate.Known, false, "what was not measured is not known"},
		{jar.Temperature, mix.Known(unit.Int(15)), "degrees Celsius"},
		{jar.Readings[0].Rise, mix.Known(unit.Frac(1, 2)), "a difference without offset"},
		{jar.Readings[0].Gas, mix.Vented, "a sign of gas"},
		{jar.Readings[0].Gel, mix.NotRecorded, "what was not recorded is not none"},
		{jar.Readings[1].Foam.Tall, true, "foam as a height"},
		{jar.Vessel.Recorded, true, "a vessel that was closed"},
		{jar.OrderKnown, true, "the order was recorded"},
		{strings.Contains(jar.Record, "title: A jar that hissed"), true, "the record's own text"},
		{x.Observation("ob-2").OrderKnown, false, "no word of the order: not known"},
		{x.Observation("ob-2").Ratings[0].Mix, mix.Known(unit.Int(62)), "ratings are kept in percent"},
		{x.Recipe("gas-jar").WaterShare, unit.Frac(1, 4), "a crowded fill"},
		{b.Site.Tolerance, unit.Frac(5, 100), "tolerance"},
		{b.HalfLives[0].ID, mix.ID("acids-word"), "half-lives by id"},
		{potash.Temperature, mix.Known(unit.Int(25)), "the temperature of the water"},
		{potash.Points[0].Low.Set, false, "less than: no lower end"},
		{potash.Points[0].High, mix.Bound{Set: true, Open: true, Value: unit.Int(60)}, "a bound in minutes"},
		{potash.Points[1].PH, [2]unit.Number{unit.Int(5), unit.Int(6)}, "one answer for a range of pH"},
		{potash.Points[1].High, mix.Bound{Set: true, Value: unit.Int(4 * 24 * 60)}, "the upper end of a range"},
		{potash.Points[2].About, true, "about"},
		{potash.Points[2].Low, potash.Points[2].High, "one number is both ends"},
		{potash.Points[3].High.Set, false, "more than: no upper end"},
		{potash.Points[4].Stable, true, "stable, without a number"},
		{b.Criteria[0].Symptom, mix.Gas, "criteria by symptom"},
		{b.Criteria[1].Rise, mix.Known(unit.Int(5)), "9 °F of difference are 5 °C"},
		{b.Cautions[0].Hazard, mix.NoHazard, "the general caution first"},
		{b.Order[1].ID, mix.ID("dry"), "the order of addition as written"},
	} {
		if diff := cmp.Diff(c.want, c.got); diff != "" {
			t.Errorf("%s (-want +got)\n%s", c.why, diff)
		}
	}
}

// TestDefaults holds what a site that says nothing gets.
func TestDefaults(t *testing.T) {
	fsys := office(t)
	fsys["data/site.yaml"] = &fstest.MapFile{Data: []byte("office: Test\ntitle: Test\nlanguages: [en, es]\npublished: 2026-06-01\n")}
	b, problems := dataset.Load(fsys)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if !b.Site.Tolerance.Equal(unit.Frac(1, 20)) || !b.Site.FirstWater.Equal(unit.Frac(1, 2)) || b.Site.Metric {
		t.Errorf("got %+v", b.Site)
	}
}

// broken fails to open one file.
type broken struct {
	fs.FS
	name string
}

func (b broken) Open(name string) (fs.File, error) {
	if name == b.name {
		return nil, &fs.PathError{Op: "open", Path: name, Err: errors.New("the disk has a scratch")}
	}
	return b.FS.Open(name)
}

func TestUnreadable(t *testing.T) {
	_, problems := dataset.Load(broken{office(t), "data/sources/other.yaml"})
	if got, want := problems.String(), "data/sources/other.yaml: cannot be read: the disk has a scratch\n\tlook whether the disk is sound, and copy the file again\n"; got != want {
		t.Errorf("got  %swant %s", got, want)
	}
	_, problems = dataset.Load(fstest.MapFS{})
	if got := problems.String(); got != "data: no such folder\n\tmake an office with tankleaf new DIR\n" || !problems.Stops() {
		t.Errorf("an office without data: got %s", got)
	}
}

func TestLinks(t *testing.T) {
	dir := t.TempDir()
	for name, f := range office(t) {
		name = filepath.Join(dir, name)
		if err := errors.Join(os.MkdirAll(filepath.Dir(name), 0o777), os.WriteFile(name, f.Data, 0o666)); err != nil {
			t.Fatal(err)
		}
	}
	outside := filepath.Join(t.TempDir(), "more.yaml")
	if err := os.WriteFile(outside, []byte("products: [{id: "), 0o666); err != nil {
		t.Fatal(err)
	}
	photo := filepath.Join(dir, "data/photos/ob-1.jpg")
	err := errors.Join(os.Mkdir(filepath.Join(dir, "data/products"), 0o777), os.Symlink(outside, filepath.Join(dir, "data/products/more.yaml")),
		os.Remove(photo), os.Symlink(outside, photo))
	if err != nil {
		t.Skip("no symbolic links here: ", err)
	}
	_, problems := dataset.Load(os.DirFS(dir))
	want := "data/observations/2026/ob-1.yaml:23:8: no photo \"data/photos/ob-1.jpg\"\n\tadd the file, or remove the line\n" +
		"data/photos/ob-1.jpg: symbolic link: links are not followed\n\tput the file itself here\n" +
		"data/products/more.yaml: symbolic link: links are not followed\n\tput the file itself here\n"
	if got := problems.String(); got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

// TestWhatIsNoFile: a link, a folder or nothing in the place of a file is told there,
// once, and not as a fault of those that name its records.
func TestWhatIsNoFile(t *testing.T) {
	for _, c := range []struct {
		why, name string
		mode      fs.FileMode
		want      string
	}{
		{"a folder named as a file", "data/places.yaml", fs.ModeDir | 0o755, "data/places.yaml: is a folder, where a file is read\n\tput a file here, or name the folder otherwise\n"},
		{"a link in the place of a file", "data/places.yaml", fs.ModeSymlink | 0o777, "data/places.yaml: symbolic link: links are not followed\n\tput the file itself here\n"},
		{"a pipe", "data/places.yaml", fs.ModeNamedPipe | 0o644, "data/places.yaml: is no plain file\n\tput a plain file here; pipes and devices are not read\n"},
		{"a link in the place of the site", "data/site.yaml", fs.ModeSymlink | 0o777, "data/site.yaml: symbolic link: links are not followed\n\tput the file itself here\n"},
		{"a folder in the place of the site", "data/site.yaml", fs.ModeDir | 0o755, "data/site.yaml: is a folder, where a file is read\n\tput a file here, or name the folder otherwise\n"},
	} {
		fsys := office(t)
		fsys[c.name] = &fstest.MapFile{Mode: c.mode}
		_, problems := dataset.Load(fsys)
		if got := problems.String(); got != c.want {
			t.Errorf("%s: got\n%swant\n%s", c.why, got, c.want)
		}
	}
	fsys := fstest.MapFS{"data": {Data: []byte("x")}}
	if _, problems := dataset.Load(fsys); problems.String() != "data: is no folder\n\tmake a folder of that name, and put the files into it\n" {
		t.Errorf("a file in the place of data/: %s", problems)
	}
}

// TestManyProblems holds that ten thousand problems are summed up, in one file
// and in many.
func TestManyProblems(t *testing.T) {
	var rows strings.Builder
	rows.WriteString("products:\n")
	for i := range 10_000 {
		fmt.Fprintf(&rows, "  - {id: p%d, name: P, form: SP, clases: [acid], classes: [ac-%d], sources: [a-label]}\n", i, i)
	}
	fsys := office(t)
	fsys["data/products/many.yaml"] = &fstest.MapFile{Data: []byte(rows.String())}
	_, problems := dataset.Load(fsys)
	if n := len(problems); n > 201 || !strings.Contains(problems.String(), "too many problems") {
		t.Errorf("%d problems of one file are listed", n)
	}
	for i := range 4 {
		fsys[fmt.Sprintf("data/products/many-%d.yaml", i)] = fsys["data/products/many.yaml"]
	}
	_, problems = dataset.Load(fsys)
	last := problems[len(problems)-1]
	if len(problems) != 501 || !strings.HasSuffix(last.Msg, " more problems are not shown") {
		t.Errorf("%d problems are listed, the last is %q", len(problems), last.Msg)
	}
}

// unplaced compares books without the places of their records.
var unplaced = cmp.Options{cmpopts.IgnoreTypes(diag.Pos{}), cmpopts.EquateEmpty(), cmp.AllowUnexported(unit.Rate{}), cmp.Comparer(func(a, b unit.Number) bool { return a.Equal(b) })}

// TestOrderChangesNothing deals the records of the small office into other files
// in another order and reads the same book.
func TestOrderChangesNothing(t *testing.T) {
	want, problems := dataset.Load(office(t))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		got, problems := dataset.Load(dealt(r, rapid.IntRange(1, 4).Draw(t, "files")))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		if diff := cmp.Diff(want, got, unplaced); diff != "" {
			t.Fatalf("(-want +got)\n%s", diff)
		}
	})
}

// dealt returns the small office with the records of each kind that has no order
// of its own shuffled and dealt into n files.
func dealt(r *rand.Rand, n int) fs.FS {
	ar, err := txtar.ParseFile(fineDir + "/office.txtar")
	if err != nil {
		panic(err)
	}
	fsys := fstest.MapFS{}
	for _, f := range ar.Files {
		kind, rows, ok := records(f)
		if !ok {
			fsys[f.Name] = &fstest.MapFile{Data: f.Data}
			continue
		}
		r.Shuffle(len(rows), func(i, j int) { rows[i], rows[j] = rows[j], rows[i] })
		for i, part := range slices.Collect(slices.Chunk(rows, (len(rows)+n-1)/n)) {
			name := fmt.Sprintf("data/%s/%c%d-%s", kind, 'a'+rune(r.IntN(26)), i, filepath.Base(f.Name))
			fsys[name] = &fstest.MapFile{Data: []byte(kind + ":\n" + strings.Join(part, ""))}
		}
	}
	return fsys
}

// records splits a file of one list into its rows.
func records(f txtar.File) (kind string, rows []string, ok bool) {
	head, body, _ := strings.Cut(string(f.Data), "\n")
	if strings.HasPrefix(head, "# yaml") {
		head, body, _ = strings.Cut(body, "\n")
	}
	kind = strings.TrimSuffix(head, ":")
	for _, ordered := range []string{"order", "groups"} {
		if kind == ordered {
			return "", nil, false
		}
	}
	if kind == head || !strings.HasPrefix(body, "  - ") || strings.Contains(body, "\ndisputes:") {
		return "", nil, false
	}
	for row := range strings.SplitSeq(body[len("  - "):], "\n  - ") {
		rows = append(rows, "  - "+strings.TrimSuffix(row, "\n")+"\n")
	}
	return kind, rows, true
}

// FuzzLoad puts any text into one file of the small office. Nothing panics, and
// every place in that file lies inside it.
func FuzzLoad(f *testing.F) {
	for _, name := range archivesOf(f) {
		for i, file := range archive(f, name).Files {
			if file.Name != "want" && strings.HasSuffix(file.Name, ".yaml") {
				f.Add(file.Name, string(file.Data), i)
			}
		}
	}
	base := office(f)
	f.Fuzz(func(t *testing.T, name, text string, _ int) {
		if !fs.ValidPath(name) || !strings.HasPrefix(name, "data/") || strings.ContainsAny(name, "\\\n") {
			return
		}
		fsys := fstest.MapFS{name: &fstest.MapFile{Data: []byte(text)}}
		for n, file := range base {
			if n != name && !strings.HasPrefix(n, name+"/") && !strings.HasPrefix(name, n+"/") {
				fsys[n] = file
			}
		}
		_, problems := dataset.Load(fsys)
		for _, p := range problems {
			if p.Pos.IsZero() {
				t.Errorf("problem without a place: %s", p.Msg)
			}
			if p.Pos.File == name && p.Pos.Line > 0 {
				inside(t, text, p.Pos)
			}
		}
	})
}

func archivesOf(f *testing.F) []string {
	names, err := filepath.Glob("../../testdata/*/*.txtar")
	if err != nil || len(names) == 0 {
		f.Fatal("no archives: ", err)
	}
	return names
}

func inside(t *testing.T, text string, p diag.Pos) {
	t.Helper()
	lines := strings.Split(strings.TrimPrefix(text, "\ufeff"), "\n")
	if p.Line > len(lines) || p.Col < 1 || p.Col > len([]rune(lines[p.Line-1]))+1 {
		t.Errorf("%v lies outside the text %q", p, text)
	}
}

// BenchmarkLoad reads an office of 10,000 products and 20,000 observations.
func BenchmarkLoad(b *testing.B) {
	fsys := office(b)
	var rows strings.Builder
	rows.WriteString("products:\n")
	for i := range 10_000 {
		fmt.Fprintf(&rows, "  - id: p%d\n    name: P %d\n    form: SP\n    rate: {low: 1 lb/ac, high: 2 lb/ac}\n    classes: [acid]\n    sources: [a-label]\n", i, i)
	}
	fsys["data/products/many.yaml"] = &fstest.MapFile{Data: []byte(rows.String())}
	for i := range 20_000 {
		text := strings.ReplaceAll(string(fsys["data/observations/2026/ob-1.yaml"].Data), "ob-1", fmt.Sprintf("n%d", i))
		text = strings.Replace(text, fmt.Sprintf("photo: photos/n%d.jpg", i), "", 1)
		fsys[fmt.Sprintf("data/observations/many/n%d.yaml", i)] = &fstest.MapFile{Data: []byte(text)}
	}
	for b.Loop() {
		if _, problems := dataset.Load(fsys); len(problems) > 0 {
			b.Fatal(problems)
		}
	}
}
