package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import org.aftercast.estimate.RecoveryTrack;
import org.junit.jupiter.api.Test;

class StudyRecoveriesTest {

    /** By hand: release at 100 s; half hours of 1.5 Hz, of 1.0 Hz with too few beats, of 0.8 Hz; then the animal was lost. */
    @Test
    void medianOfEachHalfHourWithBeatsEnough() {
        float[] hz = new float[100 + 4 * 1800];
        Arrays.fill(hz, Float.NaN);
        Arrays.fill(hz, 0, 100, 9f);
        Arrays.fill(hz, 100, 100 + 1800, 1.5f);
        Arrays.fill(hz, 100 + 1800, 100 + 1800 + 599, 1.0f);
        Arrays.fill(hz, 100 + 3600, 100 + 3600 + 700, 0.8f);
        Arrays.fill(hz, 100 + 5400, 100 + 7200, 0.1f);
        RecoveryTrack track = StudyRecoveries.track("A", hz, 100, 1.6);
        assertThat(track.hours()).containsExactly(0.25, 1.25);
        assertThat(track.values()[0]).isEqualTo(1.5);
        assertThat(track.values()[1]).isEqualTo((double) 0.8f);
    }
}
