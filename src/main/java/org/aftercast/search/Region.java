package org.aftercast.search;

import java.util.List;
import org.aftercast.geo.Bearings;
import org.aftercast.geo.GeoJson;
import org.aftercast.geo.Position;

/**
 * Where the package is with a given probability: the smallest area that holds it, possibly in several pieces.
 *
 * @param probability nominal probability, for example 0.95
 * @param areaM2 area of all pieces in m²
 * @param pieces largest probability first
 */
public record Region(double probability, double areaM2, List<Piece> pieces) {

    /**
     * One piece.
     *
     * @param probability what this piece holds of the whole
     * @param centre mean position in it
     * @param outline its boundary
     */
    public record Piece(double probability, Position centre, GeoJson.Polygon outline) {}

    public Region {
        pieces = List.copyOf(pieces);
    }

    /** Whether a place lies in any piece. */
    public boolean contains(Position place) {
        for (Piece piece : pieces) {
            if (inside(piece.outline().outer(), place)
                    && piece.outline().holes().stream().noneMatch(hole -> inside(hole, place))) {
                return true;
            }
        }
        return false;
    }

    private static boolean inside(List<Position> ring, Position place) {
        boolean in = false;
        for (int i = 0; i < ring.size(); i++) {
            Position a = ring.get(i);
            Position b = ring.get((i + 1) % ring.size());
            if ((a.latDeg() > place.latDeg()) != (b.latDeg() > place.latDeg())) {
                double ax = Bearings.wrap180(a.lonDeg() - place.lonDeg());
                double bx = Bearings.wrap180(b.lonDeg() - place.lonDeg());
                double along = (place.latDeg() - a.latDeg()) / (b.latDeg() - a.latDeg());
                if (ax + along * (bx - ax) > 0) {
                    in = !in;
                }
            }
        }
        return in;
    }
}
