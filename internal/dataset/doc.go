// Package dataset reads an office's data/ folder into a [mix.Book], every value
// with its place, and reports everything that is wrong in one run.
//
// # Files
//
// Each kind of record lives in data/KIND.yaml or in any number of files
// data/KIND/*.yaml, each a mapping with the single key KIND that holds a list;
// files of classes may hold groups too, files of the order disputes. Observations
// are one file each, data/observations/**/ID.yaml, whose top level is the record
// itself. data/site.yaml holds the site's own settings at its top level. Unknown
// keys, duplicate keys and files of no kind are problems. Pictures lie in
// data/photos, JSON Schemas for editors in data/schema; neither is read, nor are
// notes for colleagues in *.md. The first line of a file names its schema, by the
// way from the file to it:
//
//	# yaml-language-server: $schema=schema/products.json
//	# yaml-language-server: $schema=../../schema/observation.json
//
// Text is a plain scalar in the office's first language, or a mapping by
// language code: `name: {en: Sulfur, es: Azufre}`. IDs are lower-case letters,
// digits and single hyphens. Products and classes share one space of IDs.
//
// Sources are given as a list whose entries are a source's ID or a mapping
// `{id: ID, place: "table 3"}`. A row without a source does not load; what is
// taught in the trade without one cites a source of kind practice, a value from
// memory one of kind memory.
//
// site.yaml
//
//	office: Quillback Valley Extension Office
//	title: What may share the tank
//	tagline: ...
//	contact: ...
//	demonstration: This site is a demonstration. ...   # leave out for real data
//	languages: [en, es]         # the first is the office's own
//	units: us                   # us or metric: shown first
//	published: 2026-11-20       # the day of this publication
//	tolerance: 5 %              # of a poured dose
//	jars: [250 mL, 1 pt, 500 mL, 1 qt, 1 L]
//	first_water: 50 %           # in before the first product
//
// classes.yaml
//
//	groups:
//	  - {id: acids, name: Acids and acidic salts}
//	classes:
//	  - id: acidic-material
//	    name: {en: Acidic material, es: Material ácido}
//	    axis: chemistry         # chemistry, salt, role, formulation or water
//	    group: acids
//	    kind_of: []             # parents
//	    forms: []               # products with these codes belong here
//	    about: ...
//	    also: [acid]            # other names, misspellings
//	    matrix: true            # shown in the printed matrix
//	    carrier: false          # true: a liquid of the tank
//	    when: []                # carriers: gates on the water
//	    hazards: [concentrate]
//	    suppresses: []          # symptoms its presence hides: a defoamer, foam
//	    sources: [uc-81]
//
// products.yaml
//
//	products:
//	  - id: brindle-kb
//	    name: Brindle KB
//	    form: SP                # international code
//	    state: dry              # only with XX: dry or liquid
//	    bag: false
//	    actives:
//	      - {name: potassium bicarbonate, amount: 85 % w/w}
//	    density: 1.2 g/mL       # liquids only
//	    rate: {low: 2.5 lb/ac, high: 5 lb/ac}
//	    uses:
//	      - {crop: apple, timing: bloom, purpose: powdery-mildew}
//	      - {crop: cherry, timing: bloom, purpose: powdery-mildew, rate: {low: 2 lb/ac, high: 3 lb/ac}}
//	    classes: [potassium-bicarbonate]
//	    spray_volume: {low: 20 gal/ac, high: 200 gal/ac}
//	    position: 1             # the label's own place in the order; rare
//	    about: ...
//	    also: []
//	    sources: [demo-label]
//
// crops.yaml
//
//	crops:
//	  - id: apple
//	    name: Apple
//	    timings:
//	      - {id: bloom, name: Bloom}
//
// purposes.yaml
//
//	purposes:
//	  - {id: powdery-mildew, name: Powdery mildew}
//
// interactions.yaml
//
//	interactions:
//	  - id: carbonate-with-acid
//	    members: [carbonate, acidic-material]
//	    kind: chemical          # physical, chemical, biological or legal
//	    symptoms: [gas, foam]   # needed unless kind is legal
//	    verdict: never          # clean, steps, apart or never
//	    hazards: [pressure]
//	    what: Carbon dioxide comes off and builds pressure under a lid.
//	    mechanism: ...
//	    when:                   # all must hold
//	      - {temperature: "> 10 °C"}
//	    worse: [Warm water, A closed vessel]
//	    steps: []               # required with verdict steps
//	    mends:
//	      - {class: compatibility-agent, to: steps, how: ..., sources: [...]}
//	    instead: {text: ..., use: [sulfur]}
//	    disputes:
//	      - {says: ..., sources: [...]}
//	    sources: [k2co3-p]
//
// Gates are mappings with one key: hardness, bicarbonate ("> 300 ppm"), ph
// ("< 6.5"), temperature, spray_volume ("< 10 gal/ac"), standing ("> 2 h"),
// water_share ("< 50 %"), order ([ec, wp]: the first went in before the second),
// vessel (open, closed), place, crop, carrier (IDs). Bounds are written with <,
// <=, >, >= or as a range: "5.5 to 7".
//
// notices.yaml
//
//	notices:
//	  - id: lower-no-x
//	    basis: law              # law or label
//	    place: lower-quillback  # left out: everywhere
//	    members: [lime-sulfur]  # one or more
//	    effect: forbids         # forbids, requires, allows or informs
//	    when: []
//	    title: ...
//	    says: ...
//	    steps: []               # required with effect requires
//	    from: 2026-01-01
//	    until: 2027-12-31
//	    sources: [...]
//
// observations/2026/qv-2026-014.yaml
//
//	id: qv-2026-014             # the file's name
//	kind: jar                   # jar or field
//	title: ...
//	date: 2026-05-12
//	by: office specialist       # a role: office specialist, county agent, grower,
//	                            #   applicator, adviser or dealer
//	place: upper-quillback
//	investigation: hissing-lids
//	products:                   # in order of addition
//	  - {product: brindle-kb, rate: 5 lb/ac, batch: B2}
//	  - {product: tarn-lower, rate: 1 qt/100 gal}
//	order: recorded             # or not-recorded
//	spray_volume: 100 gal/ac
//	water_share: 25 %           # crowded fill; left out: full water
//	vessel: {type: jar, size: 1 qt, liquid: 700 mL, height: 90 mm, closed: true}
//	water: office-well
//	temperature: 15 °C
//	ph_before: 7.6
//	inversions: 10              # per addition
//	readings:
//	  - after: 0 min
//	    foam: 40 mL             # or a height: 12 mm
//	    gas: vented             # none, bubbles, firm, vented
//	    rise: 0.5 °C            # difference; no offset is applied
//	    flakes: none            # none, trace, some, heavy; so too gel,
//	    gel: none               #   precipitate, layers, oil_film
//	    redispersed: fully      # fully, partly, not-at-all
//	    inversions: 5
//	    screen: none            # none, rinses-off, stays
//	    mesh: 50
//	    ph: 6.4
//	    note: ...
//	ratings:
//	  - symptom: control        # control or injury
//	    target: common lambsquarters
//	    days: 14
//	    mix: 62 %
//	    untreated: 0 %
//	    singles:
//	      - {product: a, rating: 70 %}
//	note: ...
//	photo: photos/qv-2026-014.jpg   # below data/
//
// investigations.yaml
//
//	investigations:
//	  - id: hissing-lids
//	    title: ...
//	    question: ...
//	    opened: 2026-05-11
//	    about: ...
//	    conclusion: ...
//	    open: ...
//
// sources.yaml
//
//	sources:
//	  - id: k2co3-p
//	    kind: paper             # law, label, standard, paper, bulletin, handbook, press, practice, memory
//	    title: ...
//	    authors: ...
//	    year: 2023
//	    where: journal, publisher, office
//	    link: https://...
//	    partial: true           # only an abstract or an opening was read
//
// places.yaml, waters.yaml, tools.yaml
//
//	places:
//	  - {id: upper-quillback, name: Upper Quillback District, part_of: quillback, about: ...}
//	waters:
//	  - id: office-well
//	    name: Office well
//	    place: upper-quillback
//	    hardness: 310 ppm
//	    ph: 7.8
//	    bicarbonate: 280 ppm
//	    calcium: 90 ppm         # so too magnesium, sodium, potassium, iron
//	    measured: 2026-03-02
//	    made_from:              # a water that is made up from pure water
//	      - {salt: calcium chloride, amount: 304 mg/L}
//	    sources: [qv-lab]
//	tools:
//	  - {id: syringe-10, name: 10 mL syringe, kind: syringe, low: 0.5 mL, high: 10 mL, graduation: 0.2 mL, sources: [...]}
//	  - {id: scale-001, name: Bench scale, kind: scale, low: 0.1 g, high: 500 g, graduation: 0.01 g, sources: [...]}
//
// order.yaml
//
//	order:                      # first to last
//	  - id: bags
//	    name: Water-soluble bags
//	    bags: true
//	    forms: []
//	    classes: []
//	    do: ...
//	    wait: 5 min
//	    sources: [...]
//	disputes:
//	  - question: Surfactants before or after emulsifiable concentrates?
//	    positions:
//	      - {says: After, sources: [sdsu]}
//	sequences:                  # orders as their sources publish them
//	  - id: sdsu
//	    name: South Dakota State University Extension
//	    start: {low: 33 %, high: 33 %}  # water before the first product
//	    steps:
//	      - {id: ams, name: Ammonium sulfate, classes: [ammonium-sulfate]}
//	      - {id: dry, name: Dry products, forms: [WP, WG], bags: true, do: ...}
//	    partial: true           # read to the last step and not beyond
//	    note: ...               # how the source's words were read
//	    sources: [sdsu]
//
// routine.yaml                 # how the office runs its jars; all may be left out but sources
//
//	readings: [0 min, 15 min, 30 min, 2 h, 16 h]   # after the last product
//	inversions: 10              # of the vessel after each addition
//	headspace: 25 %             # of the vessel left free
//	crowded: 25 %               # of the water, in a crowded fill
//	spare: 10 %                 # of products and water in a kit
//	work: {setup: 3 min, addition: 2 min, stock: 4 min, reading: 1 min, wash: 4 min}
//	kit:
//	  - {id: gloves, name: Rubber gloves, wear: true, per: person, count: 2, sources: [...]}
//	wash: [..., ...]            # clean-up and disposal
//	labels:                     # sheets of labels by their dimensions
//	  - {id: ..., name: 2 by 4 in, paper: letter, width: 4 in, height: 2 in, across: 2, down: 5,
//	     left: 0.16 in, top: 0.5 in, step_x: 4.19 in, step_y: 2 in, sources: [...]}
//	sources: [...]
//
// recipes.yaml
//
//	recipes:
//	  - id: ...
//	    title: ...
//	    why: ...
//	    products:
//	      - {product: brindle-kb, rate: 5 lb/ac}
//	    jar: 1 qt
//	    spray_volume: 100 gal/ac
//	    water_share: 100 %
//	    water: office-well
//	    sources: [...]
//
// trials.yaml
//
//	trials:                     # offered as packets; the jars follow from what is asked
//	  - id: ...
//	    title: ...
//	    why: ...
//	    question: workshop      # cause, order, water, substitute or workshop
//	    products:               # without a rate: the highest of the label
//	      - {product: brindle-kb, rate: 5 lb/ac}
//	      - {product: tarn-lower}
//	    spray_volume: 100 gal/ac
//	    jar: 500 mL             # finished volume; left out: chosen
//	    jars: 8                 # at most, controls and replicates counted
//	    replicates: 1
//	    seed: 1                 # of codes and the order of runs
//	    water_share: 100 %
//	    waters: [office-well]   # the first is the water of all jars
//	    aid: {product: ...}     # a helper: each mix with and without it
//	    for: brindle-kb         # substitute: what the others stand in for
//	    substitutes:
//	      - {product: sulfur-a}
//	    adaptive: false         # cause: each jar hangs on the one before
//	    as_used: false          # true: rates outside the labels are meant
//	    persons: 24
//	    groups: 6
//	    shared: false           # true: jars are dealt out among the groups
//	    sources: [...]
//
// cautions.yaml
//
//	cautions:
//	  - hazard: general         # general, pressure, toxic-gas, heat, fire or concentrate
//	    title: Before you mix
//	    lines: [..., ...]
//	    sources: [...]
//
// criteria.yaml
//
//	criteria:
//	  - symptom: foam
//	    at_least: 10 %          # foam: share of the liquid; heat: degrees;
//	    after: 1 min            #   gas, residue and the rest: a word of the readings
//	    verdict: steps
//	    hazard: pressure        # left out: a nuisance
//	    redisperses: true       # a reaction that redisperses fully is steps
//	    needed: true            # a jar is clean only when this was recorded
//	    says: ...
//	    sources: [...]
//
// reviews.yaml
//
//	reviews:
//	  - id: micronized-sulfur
//	    date: 2026-11-02
//	    by: office specialist   # a role
//	    softens:                # mixes that become softer, by classes or products; one
//	      - [sulfur, oil]       #   alone stands for every mix with it
//	      - [brindle-kb]
//	    because: ...
//	    observations: [qv-2026-014]
//	    sources: [...]
//
// halflives.yaml
//
//	halflives:
//	  - id: captan-howard
//	    active: captan          # ISO common name as products write it; or
//	    class: carbamate        #   class: when the source speaks of no single active
//	    temperature: 28 °C      # of the water; left out: the source does not say
//	    points:                 # rising in pH; left out when the source gives no number
//	      - {ph: 5.2, half_life: 10.3 h}
//	      - {ph: 5 to 7, half_life: stable}
//	    note: ...               # what the source says in words, what is wrong with its print
//	    sources: [...]
//
// A half-life is a time, "about 16 d", a range "3 d to 4 d", a bound "> 31 d" or
// the word stable. Each source is a record of its own: nothing is interpolated
// between two of them.
package dataset
