// Written from the Go structs by go test ./internal/planner -update. Do not edit.

/** What goes wrong in a mix, in the order of the vocabulary. */
export const symptoms = ["gas","heat","fire","foam","flakes","gel","precipitate","layers","oil-film","residue","loss","vapor","control","injury"] as const;

/** Those that a jar can show. */
export const inJarSymptoms = ["gas","heat","foam","flakes","gel","precipitate","layers","oil-film","residue"] as const;

/** Ways in which a mix hurts people or equipment. */
export const hazards = ["pressure","toxic-gas","heat","fire","concentrate"] as const;

/** From no evidence up; the first is no point on the scale of the others. */
export const verdicts = ["unknown","clean","steps","apart","never"] as const;

/** Strength of evidence, weakest first. */
export const grades = ["none","inference","practice","report","single-jar","jars","study","rule"] as const;

/** What a gate may bound. */
export const numericFactors = ["hardness","ph","bicarbonate","temperature","spray_volume","standing","water_share"] as const;
