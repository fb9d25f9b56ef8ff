package compat

import "fmt"

var partNames = []string{"none", "decides", "agrees", "outvoted", "relaxed", "softened", "off-gate", "informative"}

// String returns the part's name in JSON and in the catalogue of messages.
func (p Part) String() string {
	if int(p) < len(partNames) {
		return partNames[p]
	}
	return fmt.Sprintf("Part(%d)", uint8(p))
}
