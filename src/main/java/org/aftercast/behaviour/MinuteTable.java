package org.aftercast.behaviour;

/**
 * One row per whole minute since the first sample; parallel arrays, {@code NaN} where a value cannot be had.
 *
 * @param goodShare share of the minute with good samples, 0–1
 * @param beatShare share of the good seconds with a tailbeat, 0–1; with movement where beats were refused
 * @param beatHz median beat frequency, Hz
 * @param beatAmplitudeG median beat amplitude, g
 * @param swayG median of the band-passed sway, g
 * @param dynamicG median dynamic acceleration (L2), g
 * @param waveG median vertical acceleration in the wave band, g
 * @param smoothness jerk over (√2 · rate · dynamic acceleration): 1 for sensor noise alone, lower for any smooth movement
 * @param gravityX mean direction of gravity on the sensor's first axis (unit vector)
 * @param gravityY second axis
 * @param gravityZ third axis
 * @param poseSpreadDeg spread of the posture within the minute, degrees
 * @param rollSpreadDeg spread of the roll within the minute, degrees
 * @param depthM mean depth, m
 * @param depthSpreadM standard deviation of depth within the minute, m
 * @param verticalMps mean vertical speed, m/s, positive down
 * @param tempC mean temperature, °C
 */
public record MinuteTable(
        double[] goodShare,
        double[] beatShare,
        double[] beatHz,
        double[] beatAmplitudeG,
        double[] swayG,
        double[] dynamicG,
        double[] waveG,
        double[] smoothness,
        double[] gravityX,
        double[] gravityY,
        double[] gravityZ,
        double[] poseSpreadDeg,
        double[] rollSpreadDeg,
        double[] depthM,
        double[] depthSpreadM,
        double[] verticalMps,
        double[] tempC) {

    /** Number of minutes (rows). */
    public int minutes() {
        return goodShare.length;
    }
}
