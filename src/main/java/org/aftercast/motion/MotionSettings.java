package org.aftercast.motion;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What the motion room can be told. Null means: found from the data, and shown in the result.
 *
 * @param bandLowHz lower edge of the tailbeat band in Hz, or null
 * @param bandHighHz upper edge of the tailbeat band in Hz, or null; both edges are given or neither
 * @param beatAxis which axis carries the sway
 * @param lengthM body length in metres, or null; used for the band when none is given
 * @param latitudeDeg latitude in degrees for pressure to depth; −90 to 90
 * @param noiseMultiple a beat needs an amplitude above this multiple of the in-band noise (standard deviation, g)
 * @param noiseG in-band noise in g (standard deviation), or null: found from still periods
 * @param bridgeS longest run of missing samples, in seconds, that is bridged by a straight line and counted; longer runs
 *     are gaps and are never interpolated across
 * @param mounts how the package sits, by who knows, in order of time and the first from 0 s; empty: found from the data
 */
public record MotionSettings(
        @Nullable Double bandLowHz,
        @Nullable Double bandHighHz,
        BeatAxis beatAxis,
        @Nullable Double lengthM,
        double latitudeDeg,
        double noiseMultiple,
        @Nullable Double noiseG,
        double bridgeS,
        List<MountPose> mounts) {

    /** Which axis carries the sway. */
    public enum BeatAxis {
        /** The lateral axis of the body frame. */
        SWAY,
        /** The first sensor axis, as recorded. */
        SENSOR_X,
        /** The second sensor axis, as recorded. */
        SENSOR_Y,
        /** The third sensor axis, as recorded. */
        SENSOR_Z,
        /** The axis with the largest band-passed variance. */
        STRONGEST
    }

    public MotionSettings {
        if ((bandLowHz == null) != (bandHighHz == null)) {
            throw new IllegalArgumentException("bandLowHz, bandHighHz: give both edges of the band or neither");
        }
        if (bandLowHz != null && bandHighHz != null && !(bandLowHz > 0 && bandHighHz > bandLowHz)) {
            throw new IllegalArgumentException(
                    "bandLowHz, bandHighHz: " + bandLowHz + ", " + bandHighHz + " is not a band with 0 < low < high");
        }
        if (lengthM != null && !(lengthM > 0.02 && lengthM < 20)) {
            throw new IllegalArgumentException("lengthM: " + lengthM + " is outside 0.02–20 m");
        }
        if (!(latitudeDeg >= -90 && latitudeDeg <= 90)) {
            throw new IllegalArgumentException("latitudeDeg: " + latitudeDeg + " is outside −90 to 90");
        }
        if (!(noiseMultiple > 0)) {
            throw new IllegalArgumentException("noiseMultiple: " + noiseMultiple + " must be above 0");
        }
        if (noiseG != null && !(noiseG >= 0)) {
            throw new IllegalArgumentException("noiseG: " + noiseG + " must be at least 0 g");
        }
        if (!(bridgeS >= 0 && bridgeS <= 1)) {
            throw new IllegalArgumentException("bridgeS: " + bridgeS + " is outside 0–1 s");
        }
        mounts = mounts == null ? List.of() : List.copyOf(mounts);
        for (int i = 0; i < mounts.size(); i++) {
            if (i == 0
                    ? mounts.get(0).fromS() != 0
                    : !(mounts.get(i).fromS() > mounts.get(i - 1).fromS())) {
                throw new IllegalArgumentException("mounts: number " + (i + 1) + " starts at "
                        + mounts.get(i).fromS() + " s; the first must start at 0 s and each after the one before");
            }
        }
    }

    /** The same with how the package sits given. */
    public MotionSettings withMounts(List<MountPose> given) {
        return new MotionSettings(
                bandLowHz, bandHighHz, beatAxis, lengthM, latitudeDeg, noiseMultiple, noiseG, bridgeS, given);
    }

    /** The defaults: everything found from the data, latitude 45°, threshold 3× noise, bridges up to 0.15 s. */
    public static MotionSettings defaults() {
        return new MotionSettings(null, null, BeatAxis.SWAY, null, 45, 3, null, 0.15, List.of());
    }
}
