/** Invented: a density meter that reads water-like solutions at 20 °C. */
export const measuredDensity = {
  standardUncertaintyGPerML: 0.0005,
  temperatureC: 20,
  readingTemperatureC: 20,
  readingTemperatureStandardUncertaintyK: 1,
  expansionPerK: 2.1e-4,
  expansionStandardUncertaintyPerK: 2e-5,
  dilutionGPerML: 1.012,
  source: 'density meter',
};
