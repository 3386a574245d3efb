package org.aftercast.intake;

import java.util.Arrays;
import org.aftercast.recording.Channel;

/**
 * The rows of one sensor, from one file or several that continue one another.
 *
 * @param file the first file, for errors
 * @param channels its channels
 * @param intake what was found about clock and values
 * @param store the rows
 */
record SensorRows(String file, Channel[] channels, RowIntake intake, RowStore store) {

    boolean carriesSame(ColumnPlan plan) {
        return Arrays.equals(channels, plan.channels);
    }
}
