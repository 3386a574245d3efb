package org.aftercast.recording;

/**
 * One quantity that a logger samples, with the unit in which Aftercast keeps it.
 *
 * <p>Acceleration is specific force: a sensor at rest reads +1 g on its upward axis. The axes are the sensor's own until
 * {@code motion} turns them into the body frame.
 */
public enum Channel {
    /** Acceleration on the sensor's first axis, in g (1 g = 9.80665 m/s²). */
    ACCELERATION_X("accXG", "g"),
    /** Acceleration on the sensor's second axis, in g. */
    ACCELERATION_Y("accYG", "g"),
    /** Acceleration on the sensor's third axis, in g. */
    ACCELERATION_Z("accZG", "g"),
    /** Depth below the surface in metres, positive down. */
    DEPTH("depthM", "m"),
    /** Sea pressure (gauge: zero at the surface) in decibar. */
    PRESSURE("pressureDbar", "dbar"),
    /** Temperature in degrees Celsius. */
    TEMPERATURE("tempC", "°C");

    private final String columnName;
    private final String unit;

    Channel(String columnName, String unit) {
        this.columnName = columnName;
        this.unit = unit;
    }

    /** The name of this channel's column in stored recordings and exports; it carries the unit. */
    public String columnName() {
        return columnName;
    }

    /** The unit, as printed. */
    public String unit() {
        return unit;
    }

    /** Whether this is one of the three acceleration axes. */
    public boolean isAcceleration() {
        return this == ACCELERATION_X || this == ACCELERATION_Y || this == ACCELERATION_Z;
    }
}
