package org.aftercast.intake;

import com.fasterxml.jackson.annotation.JsonProperty;
import org.aftercast.recording.Channel;

/**
 * A unit in which a download may state a quantity: value in Aftercast's unit = factor · (value + shift).
 *
 * <p>Factors: standard gravity 9.80665 m/s² and pound-force per square inch 6894.757 Pa from NIST SP 811 (2008),
 * appendix B.8; 1 dbar = 10 000 Pa; t/°C = (t/°F − 32)/1.8, T/K = t/°C + 273.15 from the same table.
 */
public enum Unit {
    @JsonProperty("g")
    G("g", Quantity.ACCELERATION, 1, 0),
    @JsonProperty("mg")
    MILLI_G("mg", Quantity.ACCELERATION, 1e-3, 0),
    @JsonProperty("m/s2")
    METRE_PER_SECOND_SQUARED("m/s2", Quantity.ACCELERATION, 1 / 9.80665, 0),
    @JsonProperty("m")
    METRE("m", Quantity.DEPTH, 1, 0),
    @JsonProperty("cm")
    CENTIMETRE("cm", Quantity.DEPTH, 0.01, 0),
    @JsonProperty("ft")
    FOOT("ft", Quantity.DEPTH, 0.3048, 0),
    @JsonProperty("dbar")
    DECIBAR("dbar", Quantity.PRESSURE, 1, 0),
    @JsonProperty("bar")
    BAR("bar", Quantity.PRESSURE, 10, 0),
    @JsonProperty("mbar")
    MILLIBAR("mbar", Quantity.PRESSURE, 0.01, 0),
    @JsonProperty("kPa")
    KILOPASCAL("kPa", Quantity.PRESSURE, 0.1, 0),
    @JsonProperty("Pa")
    PASCAL("Pa", Quantity.PRESSURE, 1e-4, 0),
    @JsonProperty("psi")
    PSI("psi", Quantity.PRESSURE, 0.6894757, 0),
    @JsonProperty("C")
    CELSIUS("C", Quantity.TEMPERATURE, 1, 0),
    @JsonProperty("F")
    FAHRENHEIT("F", Quantity.TEMPERATURE, 1 / 1.8, -32),
    @JsonProperty("K")
    KELVIN("K", Quantity.TEMPERATURE, 1, -273.15);

    /** What a unit measures. */
    public enum Quantity {
        ACCELERATION,
        DEPTH,
        PRESSURE,
        TEMPERATURE;

        /** The quantity of a channel. */
        public static Quantity of(Channel channel) {
            return switch (channel) {
                case ACCELERATION_X, ACCELERATION_Y, ACCELERATION_Z -> ACCELERATION;
                case DEPTH -> DEPTH;
                case PRESSURE -> PRESSURE;
                case TEMPERATURE -> TEMPERATURE;
            };
        }
    }

    private final String symbol;
    private final Quantity quantity;
    private final double factor;
    private final double shift;

    Unit(String symbol, Quantity quantity, double factor, double shift) {
        this.symbol = symbol;
        this.quantity = quantity;
        this.factor = factor;
        this.shift = shift;
    }

    /** The symbol as written in a layout. */
    public String symbol() {
        return symbol;
    }

    /** What this unit measures. */
    public Quantity quantity() {
        return quantity;
    }

    /** Slope of the conversion to Aftercast's unit. */
    public double factor() {
        return factor;
    }

    /** Added to the value before {@link #factor()}. */
    public double shift() {
        return shift;
    }

    /** The value in Aftercast's unit (g, m, dbar, °C). */
    public double toOurs(double value) {
        return factor * (value + shift);
    }
}
