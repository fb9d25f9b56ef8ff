package jar

import (
	"fmt"
	"strings"
)

// Says tells in English how an amount is measured: "7.8 mL by 10 mL syringe",
// "2 draws, 10.4 + 10.2 mL, by 10 mL syringe". What no tool measures is filled
// to a mark, or left out when it is nothing.
func (p *Pour) Says() string {
	if p.Tool == nil {
		if p.Poured.Base().Sign() == 0 {
			return "none"
		}
		return p.Poured.Base().Short(decimals) + " " + p.Poured.BaseUnit() + ", to a mark on the jar"
	}
	name, _ := p.Tool.Name.In("en", "en")
	if len(p.Draws) == 1 {
		return fmt.Sprintf("%s %s by %s", p.Poured.Base().Short(decimals), p.Poured.BaseUnit(), name)
	}
	var draws []string
	for _, d := range p.Draws {
		draws = append(draws, d.Base().Short(decimals))
	}
	return fmt.Sprintf("%d draws, %s %s, by %s", len(draws), strings.Join(draws, " + "), p.Poured.BaseUnit(), name)
}
