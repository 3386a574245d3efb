package org.aftercast.motion;

/**
 * The body frame over one stretch of the recording.
 *
 * @param fromS start in seconds from the first sample
 * @param toS end in seconds from the first sample
 * @param rotation 3×3, row by row: body vector = rotation × sensor vector; body axes x head, y left, z dorsal
 * @param tiltUncertaintyDeg standard error of the tilt part in degrees
 * @param yawUncertaintyDeg standard error of the turn about the dorsal axis in degrees; 180 when it cannot be had
 * @param status how it was found
 */
public record FrameBlock(
        double fromS,
        double toS,
        double[] rotation,
        double tiltUncertaintyDeg,
        double yawUncertaintyDeg,
        Status status) {

    /** How the frame was found. */
    public enum Status {
        /** From level swimming in this block, head and tail told apart. */
        FROM_SWIMMING,
        /** From level swimming; head and tail could not be told apart, pitch may have the wrong sign. */
        HEAD_UNCERTAIN,
        /** Carried over from the nearest block with swimming. */
        CARRIED,
        /** Given by the user. */
        GIVEN,
        /** No swimming anywhere: the sensor's own axes. */
        SENSOR_AXES
    }
}
