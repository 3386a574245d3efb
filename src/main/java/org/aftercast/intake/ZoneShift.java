package org.aftercast.intake;

import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.time.zone.ZoneOffsetTransition;
import java.time.zone.ZoneRules;

/**
 * Local stamps to UTC, in the order of the rows. Where clocks are put back, an hour stands twice: rows are taken as the
 * first pass until the local time steps back, and as the second from there on. An hour that was skipped is refused.
 */
final class ZoneShift {

    private final ZoneRules rules;
    private long validFrom = Long.MAX_VALUE;
    private long validTo = Long.MIN_VALUE;
    private long shiftNs;
    private long lastLocal = Long.MIN_VALUE;
    private boolean secondPass;

    ZoneShift(ZoneRules rules) {
        this.rules = rules;
    }

    /**
     * UTC nanoseconds of a local stamp.
     *
     * @throws RowProblem if no clock in this zone ever showed the stamp
     */
    long toUtc(long localNs) throws RowProblem {
        if (localNs < validFrom || localNs >= validTo) {
            locate(localNs);
        }
        lastLocal = localNs;
        return localNs - shiftNs;
    }

    private void locate(long localNs) throws RowProblem {
        LocalDateTime local = LocalDateTime.ofEpochSecond(
                Math.floorDiv(localNs, StampText.SECOND),
                (int) Math.floorMod(localNs, StampText.SECOND),
                ZoneOffset.UTC);
        ZoneOffsetTransition change = rules.getTransition(local);
        if (change != null && change.isGap()) {
            throw new RowProblem(
                    0,
                    0,
                    "the local time " + local + " was skipped when the clocks were put forward",
                    "times that existed in the layout's zone, or the zone the logger really kept");
        }
        if (change != null) {
            secondPass = secondPass || (lastLocal != Long.MIN_VALUE && localNs < lastLocal);
            shiftNs = (secondPass ? change.getOffsetAfter() : change.getOffsetBefore()).getTotalSeconds()
                    * StampText.SECOND;
            // Within the doubled hour every row is looked at anew, so that the step back is seen.
            validFrom = Long.MAX_VALUE;
            validTo = Long.MIN_VALUE;
            return;
        }
        secondPass = false;
        ZoneOffset offset = rules.getOffset(local);
        shiftNs = offset.getTotalSeconds() * StampText.SECOND;
        Instant at = local.toInstant(offset);
        ZoneOffsetTransition next = rules.nextTransition(at);
        ZoneOffsetTransition previous = rules.previousTransition(at.plusNanos(1));
        validFrom = previous == null ? Long.MIN_VALUE : localEdge(previous, true);
        validTo = next == null ? Long.MAX_VALUE : localEdge(next, false);
    }

    private static long localEdge(ZoneOffsetTransition change, boolean after) {
        LocalDateTime before = change.getDateTimeBefore();
        LocalDateTime behind = change.getDateTimeAfter();
        LocalDateTime edge = after == before.isBefore(behind) ? behind : before;
        return edge.toEpochSecond(ZoneOffset.UTC) * StampText.SECOND;
    }
}
