import distance from "@turf/distance";

/** A place on earth, degrees. */
export interface Place {
  readonly latitude: number;
  readonly longitude: number;
}

const HIGHEST_LATITUDE = 90;
const HIGHEST_LONGITUDE = 180;

/** Whether two numbers, in degrees, can be where something was. Not 0, 0: phones without a fix write that (common practice, no source). */
export function isPlace(latitude: number, longitude: number): boolean {
  return Math.abs(latitude) <= HIGHEST_LATITUDE && Math.abs(longitude) <= HIGHEST_LONGITUDE && !(latitude === 0 && longitude === 0);
}

/** Metres between two places on the ground (great circle, by turf). */
export function metresBetween(a: Place, b: Place): number {
  return distance([a.longitude, a.latitude], [b.longitude, b.latitude], { units: "meters" });
}
