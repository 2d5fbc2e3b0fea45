const ZERO_CELSIUS_KELVIN = 273.15;
const REFERENCE_KELVIN = 293.15;
const REFERENCE_SPEED = 343.2;

/**
 * Speed of sound in dry air, metres per second, from the temperature in degrees Celsius: 343.2 √(T / 293.15 K).
 * Source: the form of ISO 9613-1, written down from memory, text not seen. Public so that tests/published/ can set it
 * against published values.
 * @throws RangeError below absolute zero or when not a number.
 */
export function speedOfSoundMetresPerSecond(celsius: number): number {
  if (!(celsius >= -ZERO_CELSIUS_KELVIN)) throw new RangeError(`A temperature is at least ${-ZERO_CELSIUS_KELVIN} °C, not ${celsius}.`);
  return REFERENCE_SPEED * Math.sqrt((celsius + ZERO_CELSIUS_KELVIN) / REFERENCE_KELVIN);
}

/**
 * What an echo meter reads for one metre at `celsius` if it assumes `assumedCelsius`. It turns the echo's time into
 * metres by the wrong speed: in cold air the echo comes late and the reading is too long.
 */
export function readingPerMetre(celsius: number, assumedCelsius: number): number {
  return speedOfSoundMetresPerSecond(assumedCelsius) / speedOfSoundMetresPerSecond(celsius);
}
