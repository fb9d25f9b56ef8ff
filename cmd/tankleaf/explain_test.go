package main

import (
	"bytes"
	"strings"
	"testing"
)

// TestRecordForInformationHasNoVerdict: what the label says of the weather decides
// nothing of this mix, which is not the same as no evidence.
func TestRecordForInformationHasNoVerdict(t *testing.T) {
	var out bytes.Buffer
	if code := run([]string{"explain", "-C", "../..", "oil", "sulfur"}, nil, &out, &out); code != exitFine {
		t.Fatalf("exit %d: %s", code, &out)
	}
	if !strings.Contains(out.String(), "\n   Law or label; For information\n") {
		t.Error("no notice for information")
	}
	if strings.Contains(out.String(), "No evidence") {
		t.Errorf("a mix with evidence in all its pairs says that there is none:\n%s", &out)
	}
}
