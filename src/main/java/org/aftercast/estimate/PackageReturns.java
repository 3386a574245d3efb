package org.aftercast.estimate;

/**
 * How the packages of a study came back, as far as their searches are on record. A package that was found ashore or handed in
 * is as good as one taken from the water; one whose search was abandoned is lost.
 *
 * @param fromWater taken from the water by those who sought it, ≥ 0
 * @param ashore found ashore, ≥ 0
 * @param handedIn handed in by somebody else, ≥ 0
 * @param abandoned not sought any longer, ≥ 0
 * @param notRead in hand, but their recordings are not loaded or not read: they have no outcome yet, ≥ 0
 */
public record PackageReturns(int fromWater, int ashore, int handedIn, int abandoned, int notRead) {

    public PackageReturns {
        if (fromWater < 0 || ashore < 0 || handedIn < 0 || abandoned < 0 || notRead < 0) {
            throw new IllegalArgumentException("counts: none may be below 0");
        }
    }

    /** Nothing on record. */
    public static PackageReturns unknown() {
        return new PackageReturns(0, 0, 0, 0, 0);
    }
}
