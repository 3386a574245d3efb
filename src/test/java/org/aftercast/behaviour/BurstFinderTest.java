package org.aftercast.behaviour;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.Random;
import org.aftercast.motion.SecondTable;
import org.junit.jupiter.api.Test;

/** Invented seconds of a swimming animal whose bursts are known; clean sines, so jerk is 2π · frequency · acceleration. */
class BurstFinderTest {

    private static final int SECONDS = 12_000;
    private static final double HZ = 1.2;
    private static final double G = 0.1;
    private static final BehaviourSettings SET = BehaviourSettings.defaults();

    private final Random random = new Random(11);
    private final float[] dynamic = new float[SECONDS];
    private final float[] jerk = new float[SECONDS];
    private final float[] hz = new float[SECONDS];

    private void level(int from, int to, double size, double beatHz) {
        for (int i = from; i < to; i++) {
            double noise = Math.exp(0.04 * random.nextGaussian());
            dynamic[i] = (float) (G * size * noise);
            jerk[i] = (float) (2 * Math.PI * beatHz * G * size * noise);
            hz[i] = (float) beatHz;
        }
    }

    private void glide(int from, int to) {
        level(from, to, 0.08, HZ);
        Arrays.fill(hz, from, to, Float.NaN);
    }

    private BurstFinder find() {
        float[] unknown = new float[SECONDS];
        float[] good = new float[SECONDS];
        Arrays.fill(good, 1);
        boolean[] all = new boolean[SECONDS];
        Arrays.fill(all, true);
        boolean[] beats = new boolean[SECONDS];
        for (int i = 0; i < SECONDS; i++) {
            beats[i] = !Float.isNaN(hz[i]);
        }
        SecondTable s = new SecondTable(
                unknown, unknown, unknown, unknown, unknown, dynamic, dynamic, jerk, hz, dynamic, dynamic, unknown,
                good);
        OwnNormal normal = new OwnNormal(true, HZ, 0.05, 1.4 * G, G, G, 0.001, 0.001, true, 0, 0, 1, 5);
        return BurstFinder.find(s, all, all, new Moving(beats, Moving.Source.BEATS), normal, 20, SET);
    }

    /** Forty bursts of 2–40 s: sway threefold, frequency twofold. */
    private int[] bursts() {
        int[] starts = new int[40];
        for (int k = 0; k < starts.length; k++) {
            starts[k] = 200 + 280 * k;
            level(starts[k], starts[k] + 2 + k % 39, 3, 2 * HZ);
        }
        return starts;
    }

    private static void allFound(BurstFinder found, int[] starts) {
        assertThat(found.events()).hasSize(starts.length);
        for (int k = 0; k < starts.length; k++) {
            assertThat(found.events().get(k).atS()).isEqualTo(starts[k]);
            assertThat(found.events().get(k).durationS()).isEqualTo(2 + k % 39);
        }
    }

    @Test
    void manyBurstsDoNotHideEachOther() {
        level(0, SECONDS, 1, HZ);
        int[] starts = bursts();
        allFound(find(), starts);
    }

    @Test
    void glidesDoNotHideBursts() {
        level(0, SECONDS, 1, HZ);
        for (int i = 0; i + 10 < SECONDS; i += 10) {
            glide(i, i + 4); // two seconds in five
        }
        int[] starts = bursts();
        allFound(find(), starts);
    }

    /** An animal that beats 1.7 times as hard for its first hour still bursts, and its strong beats are no bursts. */
    @Test
    void strongBeatsAfterTheReleaseHideNoBurst() {
        level(0, 4000, 1.7, 1.3 * HZ);
        level(4000, SECONDS, 1, HZ);
        int[] starts = bursts();
        allFound(find(), starts);
    }

    /** Swell moves the body threefold at the animal's own frequency or slower; one wide stroke likewise. */
    @Test
    void aSlowSurgeIsNoBurst() {
        level(0, SECONDS, 1, HZ);
        for (int k = 0; k < 40; k++) {
            level(200 + 280 * k, 205 + 280 * k, 4.5, k % 2 == 0 ? HZ : 0.6 * HZ);
        }
        assertThat(find().events()).isEmpty();
    }

    /** What lasts longer than the yardstick is another level, not a burst. */
    @Test
    void aLongSpellIsNoBurst() {
        level(0, SECONDS, 1, HZ);
        level(5000, 5200, 3, 2 * HZ);
        assertThat(find().events()).isEmpty();
    }
}
