package org.aftercast.sim;

import java.util.ArrayList;
import java.util.List;
import org.aftercast.recording.SampleRange;

/** Missing stretches at random. */
final class Gaps {

    private Gaps() {}

    static List<SampleRange> draw(double share, double meanLengthS, double rateHz, int samples, Dice dice) {
        List<SampleRange> gaps = new ArrayList<>();
        if (share <= 0) {
            return gaps;
        }
        double meanBetweenS = meanLengthS * (1 - share) / share;
        double atS = dice.waiting(meanBetweenS);
        while (atS * rateHz < samples - 1) {
            long from = (long) Math.ceil(atS * rateHz);
            atS += Math.max(1 / rateHz, dice.waiting(meanLengthS));
            long to = Math.min(samples, (long) Math.ceil(atS * rateHz));
            if (to > from) {
                gaps.add(new SampleRange(from, to));
            }
            atS += Math.max(2 / rateHz, dice.waiting(meanBetweenS));
        }
        return gaps;
    }
}
