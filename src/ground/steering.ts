/**
 * Characters that steer a terminal rather than stand on it: control characters (C0, C1, delete), marks that turn the direction of writing round, and
 * Unicode's own line and paragraph ends.
 */
export const steering = /[\u0000-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]/g;
