/**
 * Geodesics, the magnetic model, the sun, coasts, GPS sentences and tracks.
 *
 * <p>Latitude and longitude in degrees on WGS84, east and north positive; distances in metres; bearings in degrees
 * clockwise from true north unless a name says magnetic. No I/O: coefficient and coast resources come from the class
 * path.
 */
@NullMarked
package org.aftercast.geo;

import org.jspecify.annotations.NullMarked;
