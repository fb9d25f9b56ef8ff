package jar

import (
	"fmt"
	"strings"

	"tankleaf.example/internal/unit"
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

// ErrorSays writes what a poured dose is off by, with its sign: "+0.3 %".
func (l *Line) ErrorSays() string { return signed(l.Error) }

// RateSays writes what the rate in the finished jar is off by, with its sign.
func (l *Line) RateSays() string { return signed(l.Rate) }

func signed(share unit.Number) string {
	n := share.Mul(unit.Int(100)).Round(1)
	if n.Sign() > 0 {
		return "+" + n.Fixed(1) + " %"
	}
	return n.Fixed(1) + " %"
}
