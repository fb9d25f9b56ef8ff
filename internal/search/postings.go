package search

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/blevesearch/bleve/v2/document"
	"github.com/blevesearch/bleve/v2/index/scorch"
	index "github.com/blevesearch/bleve_index_api"
)

// counts says how often a form stands in each field of one document.
type counts [numFields]int

// A posting is one document that holds a form.
type posting struct {
	doc int // place in the slice that was indexed
	n   counts
}

// batchSize is how many documents bleve takes at once; at 500 it is fastest.
const batchSize = 500

// indexDocuments has bleve analyze and index the documents in memory, and
// returns the postings of every form, each list in the order of documents.
func indexDocuments(docs []Document, lang string) (map[string][]posting, error) {
	queue := index.NewAnalysisQueue(2)
	defer queue.Close()
	idx, err := scorch.NewScorch(scorch.Name, map[string]any{"path": ""}, queue)
	if err != nil {
		return nil, fmt.Errorf("make index: %w", err)
	}
	if err := idx.Open(); err != nil {
		return nil, fmt.Errorf("open index: %w", err)
	}
	defer idx.Close()
	if err := addAll(idx, docs, lang); err != nil {
		return nil, err
	}
	reader, err := idx.Reader()
	if err != nil {
		return nil, fmt.Errorf("read index: %w", err)
	}
	defer reader.Close()
	return readPostings(reader)
}

// addAll puts the documents into the index under their place in the slice.
func addAll(idx index.Index, docs []Document, lang string) error {
	words := analyzer(lang)
	batch := index.NewBatch()
	for i, d := range docs {
		doc := document.NewDocument(strconv.Itoa(i))
		for f, text := range d.texts() {
			doc.AddField(document.NewTextFieldCustom(fieldNamesOf[f], nil, []byte(text), index.IndexField, words))
		}
		batch.Update(doc)
		if len(batch.IndexOps) == batchSize || i == len(docs)-1 {
			if err := idx.Batch(batch); err != nil {
				return fmt.Errorf("index documents: %w", err)
			}
			batch.Reset()
		}
	}
	return nil
}

// texts returns what is searched, by field.
func (d Document) texts() [numFields]string {
	return [numFields]string{d.Title, strings.Join(d.Names, "\n"), d.Summary, d.Body}
}

// readPostings walks the dictionary of every field.
func readPostings(reader index.IndexReader) (map[string][]posting, error) {
	byForm := make(map[string][]posting)
	for f, field := range fieldNamesOf {
		dict, err := reader.FieldDict(field)
		if err != nil {
			return nil, fmt.Errorf("dictionary of %s: %w", field, err)
		}
		for {
			entry, err := dict.Next()
			if err != nil {
				return nil, fmt.Errorf("dictionary of %s: %w", field, err)
			}
			if entry == nil {
				break
			}
			if byForm[entry.Term], err = readTerm(reader, f, entry.Term, byForm[entry.Term]); err != nil {
				return nil, err
			}
		}
		dict.Close()
	}
	for form, list := range byForm {
		byForm[form] = merge(list)
	}
	return byForm, nil
}

// readTerm adds the postings of one form in one field to list.
func readTerm(reader index.IndexReader, field int, term string, list []posting) ([]posting, error) {
	terms, err := reader.TermFieldReader(context.Background(), []byte(term), fieldNamesOf[field], true, false, false)
	if err != nil {
		return nil, fmt.Errorf("postings of %q: %w", term, err)
	}
	defer terms.Close()
	for {
		td, err := terms.Next(nil)
		if err != nil {
			return nil, fmt.Errorf("postings of %q: %w", term, err)
		}
		if td == nil {
			return list, nil
		}
		id, err := reader.ExternalID(td.ID)
		if err != nil {
			return nil, fmt.Errorf("document of %q: %w", term, err)
		}
		doc, err := strconv.Atoi(id)
		if err != nil {
			return nil, fmt.Errorf("document of %q: %w", term, err)
		}
		p := posting{doc: doc}
		p.n[field] = int(td.Freq)
		list = append(list, p)
	}
}

// merge sorts a list by document and joins the fields of the same one. The
// order in which bleve gives documents changes from run to run.
func merge(list []posting) []posting {
	slices.SortFunc(list, func(a, b posting) int { return cmp.Compare(a.doc, b.doc) })
	out := list[:0]
	for _, p := range list {
		if last := len(out) - 1; last >= 0 && out[last].doc == p.doc {
			for f, n := range p.n {
				out[last].n[f] += n
			}
			continue
		}
		out = append(out, p)
	}
	return out
}
