package org.aftercast.fate;

/**
 * How much one kind of sighting shifts the odds: natural log-odds added to each fate. Our own defaults, to be adjusted.
 *
 * @param died added to died
 * @param eaten added to eaten
 * @param shed added to the package having come off early
 */
public record SightingOdds(double died, double eaten, double shed) {

    /** The default shift of a kind of sighting. */
    static SightingOdds standard(Sighting.What what) {
        return switch (what) {
            case SWAM_OFF_STRONGLY -> new SightingOdds(-0.7, -0.2, 0);
            case SWAM_OFF_WEAKLY -> new SightingOdds(0.7, 0.4, 0);
            case SANK_WITHOUT_SWIMMING -> new SightingOdds(1.4, 0.4, 0);
            case FLOATED_AT_RELEASE -> new SightingOdds(1.1, 0.7, 0);
            case TOOTH_MARKS -> new SightingOdds(0.3, 2.3, 0.3);
            case SCRATCHES -> new SightingOdds(0.2, 0.5, 0.3);
            case WATER_INSIDE -> new SightingOdds(0, 0.4, 0.2);
            case ATTACHMENT_BROKEN -> new SightingOdds(0, 0.4, 1.6);
            case LARGER_FISH_ABOUT -> new SightingOdds(0, 0.5, 0);
            case SEEN_ALIVE_LATER -> new SightingOdds(-6, -6, 0);
            case FOUND_DEAD -> new SightingOdds(6, 0, 0);
        };
    }
}
