package org.aftercast.voyage;

import java.nio.file.Path;
import org.aftercast.intake.DownloadLayout;
import org.aftercast.intake.ImportException;
import org.aftercast.intake.ImportOptions;
import org.aftercast.intake.StillPoses;
import org.aftercast.intake.TextImport;

/** Calibrates the axes of a logger from a file of still poses. */
public final class CalibrateLogger {

    private CalibrateLogger() {}

    /**
     * Reads the file by the layout of the logger's downloads and fits offsets and gains.
     *
     * @param poses the logger at rest in six or more poses, some seconds each
     * @param layout how files of this logger are read; a calibration in it is not applied
     * @throws ImportException if the file cannot be read or does not hold such poses
     */
    public static StillPoses.Result fromPoses(Path poses, DownloadLayout layout, ImportOptions options)
            throws ImportException {
        return StillPoses.calibrate(
                TextImport.read(poses, layout.withCalibration(null), options).recording(), poses.toString());
    }
}
