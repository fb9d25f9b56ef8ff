package page

import (
	"os"
	"strings"
	"testing"

	"tankleaf.example/internal/mix"
)

// TestSheetListsGradesInOrder holds the sheet that explains the grades to the order
// that the judgement takes them in.
func TestSheetListsGradesInOrder(t *testing.T) {
	for file, words := range map[string]map[mix.Grade]string{
		"reading-a-verdict.md": {mix.Rule: "Law or label", mix.Study: "Published study", mix.Jars: "Replicated jars", mix.SingleJar: "A single jar",
			mix.Report: "A field report", mix.Practice: "Common practice or memory", mix.Inference: "Class inference"},
		"reading-a-verdict.es.md": {mix.Rule: "Ley o etiqueta", mix.Study: "Estudio publicado", mix.Jars: "Pruebas de frasco repetidas",
			mix.SingleJar: "Una sola prueba de frasco", mix.Report: "Un informe de campo", mix.Practice: "Práctica común o memoria",
			mix.Inference: "Inferencia por clase"},
	} {
		text, err := os.ReadFile("../../content/workshop/" + file)
		if err != nil {
			t.Fatal(err)
		}
		_, rest, _ := strings.Cut(string(text), "\n1. ")
		list, _, _ := strings.Cut("1. "+rest, "\n\n")
		n := 0
		for g := mix.Rule; g > mix.NoGrade; g-- {
			n++
			if want := string(rune('0'+n)) + ". **" + words[g] + ".**"; !strings.Contains(list, want) {
				t.Errorf("%s: want %q in\n%s", file, want, list)
			}
		}
	}
}
