// How much carbon dioxide a carbonate could give off at most, and the pressure it
// would make under a lid that does not give. As internal/gas, where the
// sources stand. It never clears a mix.

const gasConstant = 8.314462618; // J/(mol K)
const henry25 = 3.3e-4; // mol/(m³ Pa) at 298.15 K
const henrySlope = 2400; // d ln H / d(1/T) in K
const atmosphere = 101325; // Pa
export const zeroCelsius = 273.15;

/** Temperatures outside of these are no tank's. */
export const coldest = 0;
export const hottest = 60;

/** Liters of dry gas that moles fill at one atmosphere. */
export function gasVolume(moles: number, celsius: number): number {
  return (1000 * moles * gasConstant * (celsius + zeroCelsius)) / atmosphere;
}

/** Henry's constant, mol/(m³ Pa). */
export function solubility(celsius: number): number {
  return henry25 * Math.exp(henrySlope * (1 / (celsius + zeroCelsius) - 1 / 298.15));
}

/** By how many kPa the pressure of a closed vessel rises, volumes in liters; undefined when they make no vessel. */
export function pressureRise(moles: number, liquid: number, headspace: number, celsius: number): number | undefined {
  if (!(liquid > 0) || !(headspace >= 0) || celsius < coldest || celsius > hottest) return undefined;
  const room = headspace / 1000 / (gasConstant * (celsius + zeroCelsius)) + (solubility(celsius) * liquid) / 1000;
  return moles / room / 1000;
}
