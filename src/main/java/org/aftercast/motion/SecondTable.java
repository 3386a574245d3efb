package org.aftercast.motion;

/**
 * One row per whole second since the first sample; parallel arrays, {@code NaN} where a value cannot be had.
 *
 * @param depthM mean depth in metres, positive down
 * @param verticalSpeedMps rate of change of depth in m/s, positive down, over a few seconds
 * @param tempC mean temperature in °C
 * @param pitchDeg head-up positive, −90 to 90, from the low-passed (static) acceleration in the body frame
 * @param rollDeg right side down positive, −180 to 180
 * @param dynamicL1G mean over the second of |dx|+|dy|+|dz| in g
 * @param dynamicL2G mean over the second of √(dx²+dy²+dz²) in g
 * @param jerkGps mean over the second of the jerk norm in g/s
 * @param beatHz beat frequency of the beat that covers the middle of the second; NaN while gliding or still
 * @param beatAmplitudeG amplitude of that beat in g
 * @param swayRmsG root mean square of the band-passed sway in g, beats or not
 * @param surfaceBandRmsG root mean square of vertical acceleration in the wave band (0.1–0.7 Hz) in g
 * @param quality 0–1: share of the second with good samples, reduced near gaps, clipping and settling filters
 */
public record SecondTable(
        float[] depthM,
        float[] verticalSpeedMps,
        float[] tempC,
        float[] pitchDeg,
        float[] rollDeg,
        float[] dynamicL1G,
        float[] dynamicL2G,
        float[] jerkGps,
        float[] beatHz,
        float[] beatAmplitudeG,
        float[] swayRmsG,
        float[] surfaceBandRmsG,
        float[] quality) {

    /** Number of seconds (rows). */
    public int seconds() {
        return pitchDeg.length;
    }
}
