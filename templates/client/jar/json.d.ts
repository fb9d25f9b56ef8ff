// Written from the Go structs by go test ./internal/planner -update. Do not edit.

export interface ProductInput {
  name: string;
  rate: string;
  form?: string;
  state?: string;
  density?: string;
  bag?: boolean;
  position?: number;
  classes?: string[];
  range?: [string, string];
  spray_range?: [string, string];
}

export interface StepInput {
  id: string;
  bags?: boolean;
  forms?: string[];
  classes?: string[];
}

export interface RecipeInput {
  jar: string;
  spray_volume?: string;
  water_share?: string;
  first_water?: string;
  products: ProductInput[];
  steps?: StepInput[];
}

export interface LoadInput {
  area: string;
  spray_volume: string;
  tank: string;
  max_fill?: string;
  minimum?: string;
  heel?: string;
  first_water?: string;
  products: ProductInput[];
  steps?: StepInput[];
}

export interface VolumeJSON {
  ml: string;
}

export interface ItemJSON {
  name: string;
  id?: string;
  amount: string;
  unit: string;
  takes?: string;
  rate: string;
  label: string;
  spray_label: string;
  step?: string;
  reason: string;
  class?: string;
}

export interface RecipeJSON {
  jar: VolumeJSON;
  spray_volume?: string;
  water_share: string;
  finished: VolumeJSON;
  water: VolumeJSON;
  first_water: VolumeJSON;
  top_up: VolumeJSON;
  items: ItemJSON[];
}

export interface AreaJSON {
  m2: string;
  ac: string;
  ha: string;
}

export interface LoadJSON {
  area: AreaJSON;
  volume: VolumeJSON;
  fill: VolumeJSON;
  full: boolean;
  water: VolumeJSON;
  first_water: VolumeJSON;
  top_up: VolumeJSON;
  items: ItemJSON[];
}

export interface PlanJSON {
  area: AreaJSON;
  spray_volume: string;
  area_per_load: AreaJSON;
  loads: LoadJSON[];
  total: ItemJSON[];
  left_over: VolumeJSON;
  evened: boolean;
  below_minimum: boolean;
}
