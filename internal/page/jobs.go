package page

import (
	"slices"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/sheet"
)

// jobs lists the pages of an edition.
func (e *edition) jobs() []job {
	var all []job
	add := func(path string, make func() ([]byte, error)) {
		all = append(all, job{e.folder + path, make})
	}
	for _, p := range []struct {
		name string
		make func() ([]byte, error)
	}{
		{"index", e.homePage}, {"find", e.findPage}, {"matrix", e.matrixPage}, {"classes", e.classesPage}, {"products", e.productsPage},
		{"sheets", e.sheetsPage}, {"recipes", e.recipesPage}, {"interactions", e.interactionsPage}, {"notices", e.noticesPage},
		{"sources", e.sourcesPage}, {"order", e.orderPage}, {"standing", e.standingPage}, {"unknown", e.unknownPage}, {"verdicts", e.verdictsPage}, {"safety", e.safetyPage},
		{"data", e.dataPage}, {"changes", e.changesPage}, {"404", e.missingPage}, {"offline", e.offlinePage},
	} {
		add(p.name+".html", p.make)
	}
	add("feed.xml", e.feedFile)
	parts := e.parts()
	for i, p := range parts {
		add(partPath(i, p), func() ([]byte, error) { return e.observationsPage(i, parts) })
	}
	if e.large() {
		for _, letter := range e.initials() {
			add(e.letterPath(letter), func() ([]byte, error) { return e.letterPage(letter) })
		}
	}
	all = append(all, e.toolJobs()...)
	e.formJobs(add)
	e.packetJobs(add)
	e.recordJobs(add)
	return append(all, e.findJobs()...)
}

// recordJobs lists the pages that are about one record each.
func (e *edition) recordJobs(add func(string, func() ([]byte, error))) {
	b := e.book()
	for i := range b.Classes {
		add(classPath(b.Classes[i].ID), func() ([]byte, error) { return e.classPage(&b.Classes[i]) })
	}
	for i := range b.Products {
		add(productPath(b.Products[i].ID), func() ([]byte, error) { return e.productPage(&b.Products[i]) })
	}
	for i := range b.Recipes {
		e.recipeJobs(&b.Recipes[i], add)
	}
	for i := range b.Observations {
		add(observationPath(b.Observations[i].ID), func() ([]byte, error) { return e.observationPage(&b.Observations[i]) })
	}
	for i := range b.Investigations {
		add(investigationPath(b.Investigations[i].ID), func() ([]byte, error) { return e.investigationPage(&b.Investigations[i]) })
	}
	for slug, s := range e.sheets {
		add(sheetPath(slug), func() ([]byte, error) { return e.sheetPage(s) })
	}
	for _, pair := range e.pairs {
		add(togetherPath(pair[0], pair[1]), func() ([]byte, error) { return e.togetherPage(pair[0], pair[1]) })
	}
}

// commonJobs lists the files that all editions share.
func (p *press) commonJobs() []job {
	all := append(p.assetJobs(), job{toolFolder + "record.js", formScript})
	for i := range p.book().Observations {
		o := &p.book().Observations[i]
		all = append(all, job{recordPath(o), func() ([]byte, error) { return []byte(o.Record), nil }})
	}
	for _, name := range p.pictures() {
		all = append(all, job{name, func() ([]byte, error) { return p.picture(name) }})
	}
	all = append(all, p.toolJobs()...)
	all = append(all, p.sheetJobs()...)
	for _, f := range openFiles {
		all = append(all, job{f.path, func() ([]byte, error) { return f.make(p) }})
	}
	return all
}

// recordPath is where an observation's own file is published.
func recordPath(o *mix.Observation) string { return "data/observations/" + string(o.ID) + ".yaml" }

func printStylePath(lang mix.Lang) string { return "print-" + string(lang) + ".css" }

// pictures lists the photographs and figures that pages show, each once.
func (p *press) pictures() []string {
	var names []string
	for i := range p.book().Observations {
		if photo := p.book().Observations[i].Photo; photo != "" {
			names = append(names, cleanPath(photo))
		}
	}
	for _, s := range p.Sheets {
		for _, t := range s.Links {
			if t.To == sheet.ToFile {
				names = append(names, cleanPath(t.File))
			}
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}
