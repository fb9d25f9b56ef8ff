// Package tankleaf embeds what every office starts from: the parts of the demo
// office's data that are not about Quillback Valley. The program itself is
// cmd/tankleaf.
package tankleaf

import "embed"

// Knowledge holds classes, interactions with their sources, half-lives, criteria,
// cautions, the order of addition, the routine of the bench, measuring tools, crops, purposes, and the
// schemas for editors, below data/.
//
//go:embed data/classes data/sources data/interactions data/criteria.yaml
//go:embed data/cautions.yaml data/order.yaml data/order data/routine.yaml data/tools.yaml data/crops.yaml data/purposes.yaml data/halflives.yaml data/schema
var Knowledge embed.FS
