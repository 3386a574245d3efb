package org.aftercast.search;

/**
 * The antenna: how loudness falls off the beam, and how often the back is taken for the front. Figures from memory and
 * judgement (elements held vertical); measure yours.
 */
public enum Antenna {
    /** Three elements: beam about 100°, 15 dB front to back. */
    THREE_ELEMENTS(100, 15, 0.05),
    /** Two elements, H-shaped: beam about 115°, 11 dB front to back. */
    TWO_ELEMENTS(115, 11, 0.2),
    /** A loop: figure of eight, both ways alike. */
    LOOP(90, 0, 0.5),
    /** A whip: all round, no bearing. */
    WHIP(360, 0, 0.5);

    private final double beamDeg;
    private final double frontBackDb;
    private final double backShare;

    Antenna(double beamDeg, double frontBackDb, double backShare) {
        this.beamDeg = beamDeg;
        this.frontBackDb = frontBackDb;
        this.backShare = backShare;
    }

    /** Share of bearings that are off by 180°. */
    public double backShare() {
        return backShare;
    }

    /** Half-power beam width in degrees. */
    public double beamDeg() {
        return beamDeg;
    }

    /**
     * Gain relative to the beam's centre in dB, at most 0, at an angle off it: a parabola −12 (angle/beam)² down to the
     * back's level (a common shape in planning; from memory); for a loop the lesser of the angles to either side, nulls at
     * −20 dB.
     */
    public double gainDb(double offDeg) {
        double off = Math.abs(offDeg) % 360;
        off = off > 180 ? 360 - off : off;
        return switch (this) {
            case WHIP -> 0;
            case LOOP -> Math.max(-20, 20 * Math.log10(Math.max(1e-3, Math.abs(Math.cos(Math.toRadians(off))))));
            case THREE_ELEMENTS, TWO_ELEMENTS -> Math.max(-frontBackDb, -12 * (off / beamDeg) * (off / beamDeg));
        };
    }
}
