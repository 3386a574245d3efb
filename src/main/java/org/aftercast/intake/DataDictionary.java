package org.aftercast.intake;

import org.aftercast.recording.Channel;

/** What the columns of stored and exported recordings mean. */
final class DataDictionary {

    private DataDictionary() {}

    /** One sentence on a channel. */
    static String meaning(Channel channel) {
        return switch (channel) {
            case ACCELERATION_X ->
                "Acceleration (specific force) on the sensor's first axis; at rest the upward axis reads +1";
            case ACCELERATION_Y -> "Acceleration (specific force) on the sensor's second axis";
            case ACCELERATION_Z -> "Acceleration (specific force) on the sensor's third axis";
            case DEPTH -> "Depth below the surface, positive down";
            case PRESSURE -> "Sea pressure, zero at the surface";
            case TEMPERATURE -> "Temperature at the logger";
        };
    }
}
