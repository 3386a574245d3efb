package org.aftercast.report;

import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.aftercast.behaviour.Bout;
import org.aftercast.behaviour.BoutKind;
import org.aftercast.behaviour.Event;

/** Draws the {@link Plate} of one animal: ribbon, depth, sway, beat frequency, posture, temperature on one time axis. */
final class PlateFigure {

    private static final double LEFT_PT = 46;
    private static final double RIGHT_PT = 8;
    private static final double PANEL_GAP_PT = 11;

    private final Plate plate;
    private final Sheet sheet;
    private final Scale time;
    private final double left;
    private final double right;
    private final List<double[]> panels = new ArrayList<>();

    private PlateFigure(Plate plate, double widthMm) {
        this.plate = plate;
        this.sheet = new Sheet(Look.mm(widthMm));
        this.left = LEFT_PT;
        this.right = sheet.widthPt - RIGHT_PT;
        PlateSeries series = plate.series();
        double endS = series.fromS() + series.binS() * series.count();
        this.time = new Scale(series.fromS() - plate.releaseS(), endS - plate.releaseS(), left, right);
    }

    /**
     * Draws the plate.
     *
     * @param name of the figure
     * @param widthMm width, ≥ 80 mm
     */
    static Figure draw(Plate plate, String name, double widthMm) {
        if (!(widthMm >= 80)) {
            throw new IllegalArgumentException("widthMm: " + widthMm + " is under the 80 mm that a plate needs");
        }
        return new PlateFigure(plate, widthMm).draw(name);
    }

    private Figure draw(String name) {
        PlateSeries s = plate.series();
        double labelTop = 12;
        double ribbonTop = labelTop + 34;
        double ribbonHeight = 20;
        double eventTop = ribbonTop - 9;
        double y = ribbonTop + ribbonHeight + PANEL_GAP_PT;
        double[] heights = {92, 56, 50, 42, 42, 40};
        double[] tops = new double[heights.length];
        for (int i = 0; i < heights.length; i++) {
            tops[i] = y;
            y += heights[i] + PANEL_GAP_PT;
        }
        double axisY = y - PANEL_GAP_PT;

        shadeNights(ribbonTop, axisY);
        shadeGaps(ribbonTop, axisY);
        shadeChange(ribbonTop, axisY);
        clockAxis(eventTop - 2);
        ribbon(ribbonTop, ribbonHeight);
        events(eventTop + 1);

        depth(s.depthM(), tops[0], heights[0]);
        sway(s, tops[1], heights[1]);
        beats(s.beatHz(), tops[2], heights[2]);
        posture(s.pitchDeg(), tops[3], heights[3], "pitch, °", 90);
        posture(s.rollDeg(), tops[4], heights[4], "roll, °", 180);
        temperature(s.tempC(), tops[5], heights[5]);

        marks(axisY, labelTop);
        double below = hoursAxis(axisY);
        double bottom = legend(below + 10);
        return sheet.figure(name, bottom, "Animal " + plate.animal() + ": the whole recording", describe());
    }

    // ---- behind the panels

    private double x(double secondsFromFirst) {
        return time.clamped(secondsFromFirst - plate.releaseS());
    }

    private void shadeNights(double top, double bottom) {
        for (Span night : plate.nights()) {
            double from = x(night.fromS());
            double to = x(night.toS());
            if (to > from) {
                sheet.box(from, top, to - from, bottom - top, Look.NIGHT);
            }
        }
    }

    private void shadeGaps(double top, double bottom) {
        for (Span gap : plate.gaps()) {
            double from = x(gap.fromS());
            double to = Math.max(x(gap.toS()), from + 0.5);
            sheet.hatch(from, top, to - from, bottom - top, Sheet.Hatch.RISING, Look.RULE, 4);
            sheet.line(from, top, from, bottom, Look.RULE, Look.HAIR_PT);
            sheet.line(to, top, to, bottom, Look.RULE, Look.HAIR_PT);
        }
    }

    private void shadeChange(double top, double bottom) {
        Plate.Change change = plate.change();
        if (change != null) {
            double from = x(change.lowS());
            double to = Math.max(x(change.highS()), from + 0.8);
            sheet.box(from, top, to - from, bottom - top, Look.SAND);
        }
    }

    // ---- ribbon and events

    /** Bouts narrower than half a point are merged: each half-point column shows the kind that fills most of it. */
    private void ribbon(double top, double height) {
        sheet.text(left - 4, top + 8, "bouts", Look.SMALL_PT, Mark.Anchor.END, Look.FAINT_INK);
        double columnPt = 0.5;
        int columns = (int) Math.ceil((right - left) / columnPt);
        BoutKind[] shown = new BoutKind[columns];
        Map<BoutKind, double[]> share = new EnumMap<>(BoutKind.class);
        for (Bout bout : plate.bouts()) {
            double from = x(bout.startS()) - left;
            double to = x(bout.endS()) - left;
            for (int c = (int) Math.floor(from / columnPt); c < columns && c * columnPt < to; c++) {
                double overlap = Math.min(to, (c + 1) * columnPt) - Math.max(from, c * columnPt);
                share.computeIfAbsent(bout.kind(), k -> new double[columns])[c] += Math.max(0, overlap);
            }
        }
        for (int c = 0; c < columns; c++) {
            double most = columnPt * 0.25;
            for (Map.Entry<BoutKind, double[]> of : share.entrySet()) {
                if (of.getValue()[c] > most) {
                    most = of.getValue()[c];
                    shown[c] = of.getKey();
                }
            }
        }
        int start = 0;
        for (int c = 1; c <= columns; c++) {
            if (c == columns || shown[c] != shown[start]) {
                BoutKind kind = shown[start];
                if (kind != null) {
                    double from = left + start * columnPt;
                    double to = Math.min(right, left + c * columnPt);
                    BoutStyle.of(kind).draw(sheet, from, top, to - from, height);
                }
                start = c;
            }
        }
        sheet.line(left, top, right, top, Look.RULE, Look.HAIR_PT);
        sheet.line(left, top + height, right, top + height, Look.FAINT_INK, Look.HAIR_PT);
    }

    private void events(double top) {
        for (Event event : plate.events()) {
            double at = x(event.atS());
            eventMark(event.kind(), at, top);
        }
    }

    private void eventMark(Event.Kind kind, double x, double top) {
        switch (kind) {
            case BURST -> sheet.line(x, top + 2, x, top + 7, Look.INK, Look.LINE_PT);
            case SURFACING ->
                sheet.stroke(
                        new Sheet.Path().move(x - 2.2, top + 6).line(x, top + 2).line(x + 2.2, top + 6),
                        Look.TEAL,
                        Look.LINE_PT);
            case PREDATOR_ATTACK -> {
                sheet.fill(Sheet.Path.polygon(x - 3, top + 1, x + 3, top + 1, x, top + 7), Look.RUST);
                sheet.line(x, top + 7, x, top + 9, Look.RUST, Look.LINE_PT);
            }
        }
    }

    // ---- panels

    private void depth(PlateSeries.Bins bins, double top, double height) {
        double[] range = bins.range();
        if (range == null) {
            empty(top, height, "depth, m", "no depth");
            return;
        }
        double[] nice = Ticks.niceRange(range[0] < -1 ? range[0] : 0, Math.max(range[1], 1), 5);
        Scale depth = new Scale(nice[0], nice[1], top, top + height);
        panel(top, height, "depth, m", depth, Ticks.nice(nice[0], nice[1], 6));
        envelope(bins, depth, Look.PALE_BLUE);
        line(bins.middle(), depth, Look.INK, Look.LINE_PT, Double.POSITIVE_INFINITY);
    }

    private void sway(PlateSeries s, double top, double height) {
        double[] beats = s.beatAmplitudeG().range();
        double[] rms = s.swayG().range();
        if (beats == null && rms == null) {
            empty(top, height, "sway, g", "no sway");
            return;
        }
        double most = Math.max(
                beats == null ? 0 : s.beatAmplitudeG().highQuantile(0.98),
                rms == null ? 0 : s.swayG().highQuantile(0.9) * Math.sqrt(2));
        double[] nice = Ticks.niceRange(0, Math.max(most, 1e-3), 2);
        Scale sway = new Scale(-nice[1], nice[1], top + height, top);
        panel(top, height, "sway, g", sway, Ticks.nice(-nice[1], nice[1], 5));
        mirrored(s, s.swayG().middle(), s.swayG().high(), sway);
        line(s.beatAmplitudeG().middle(), sway, Look.TEAL, Look.LINE_PT, Double.POSITIVE_INFINITY);
        float[] below = s.beatAmplitudeG().middle().clone();
        for (int i = 0; i < below.length; i++) {
            below[i] = -below[i];
        }
        line(below, sway, Look.TEAL, Look.LINE_PT, Double.POSITIVE_INFINITY);
    }

    private void mirrored(PlateSeries s, float[] middle, float[] high, Scale sway) {
        float[] up = new float[middle.length];
        float[] down = new float[middle.length];
        for (int pass = 0; pass < 2; pass++) {
            float[] from = pass == 0 ? high : middle;
            for (int i = 0; i < from.length; i++) {
                up[i] = (float) (from[i] * Math.sqrt(2));
                down[i] = -up[i];
            }
            envelope(new PlateSeries.Bins(down, s.swayG().middle(), up), sway, pass == 0 ? Look.GREY : Look.PALE_BLUE);
        }
    }

    private void beats(PlateSeries.Bins bins, double top, double height) {
        double[] range = bins.range();
        if (range == null) {
            empty(top, height, "beats, Hz", "no tailbeats");
            return;
        }
        double[] nice = Ticks.niceRange(0, bins.highQuantile(0.98) * 1.1, 3);
        Scale hertz = new Scale(nice[0], nice[1], top + height, top);
        panel(top, height, "beats, Hz", hertz, Ticks.nice(nice[0], nice[1], 4));
        envelope(bins, hertz, Look.PALE_BLUE);
        line(bins.middle(), hertz, Look.TEAL, Look.LINE_PT, Double.POSITIVE_INFINITY);
    }

    private void posture(PlateSeries.Bins bins, double top, double height, String label, double limit) {
        double[] range = bins.range();
        if (range == null) {
            empty(top, height, label, "no posture");
            return;
        }
        double widest = Math.min(limit, Math.max(30, Math.max(Math.abs(range[0]), Math.abs(range[1]))));
        double half = widest > 90 ? 180 : widest > 60 ? 90 : widest > 30 ? 60 : 30;
        Scale degrees = new Scale(-half, half, top + height, top);
        panel(top, height, label, degrees, new Ticks(new double[] {-half, 0, half}, new String[] {
            Num.fixed(-half, 0), "0", Num.fixed(half, 0)
        }));
        envelope(bins, degrees, Look.PALE_BLUE);
        line(bins.middle(), degrees, Look.INK, Look.LINE_PT, 180);
    }

    private void temperature(PlateSeries.Bins bins, double top, double height) {
        double[] range = bins.range();
        if (range == null) {
            empty(top, height, "temp., °C", "no temperature");
            return;
        }
        double[] nice = Ticks.niceRange(range[0], Math.max(range[1], range[0] + 0.5), 3);
        Scale celsius = new Scale(nice[0], nice[1], top + height, top);
        panel(top, height, "temp., °C", celsius, Ticks.nice(nice[0], nice[1], 4));
        envelope(bins, celsius, Look.SAND);
        line(bins.middle(), celsius, Look.RUST, Look.LINE_PT, Double.POSITIVE_INFINITY);
    }

    private void panel(double top, double height, String label, Scale scale, Ticks ticks) {
        panels.add(new double[] {top, height});
        for (int i = 0; i < ticks.values().length; i++) {
            double y = scale.pt(ticks.values()[i]);
            sheet.line(left, y, right, y, Look.RULE, 0.25);
            sheet.text(left - 4, y + 2.2, ticks.labels()[i], Look.SMALL_PT, Mark.Anchor.END, Look.INK);
        }
        sheet.turned(12, top + height / 2, label, Look.NORMAL_PT, Look.INK);
        sheet.line(left, top, left, top + height, Look.FAINT_INK, Look.HAIR_PT);
    }

    private void empty(double top, double height, String label, String reason) {
        sheet.turned(12, top + height / 2, label, Look.NORMAL_PT, Look.FAINT_INK);
        sheet.text(
                (left + right) / 2,
                top + height / 2,
                reason + " in this recording",
                Look.NORMAL_PT,
                Mark.Anchor.MIDDLE,
                Look.FAINT_INK);
    }

    private double binX(double bin) {
        PlateSeries s = plate.series();
        return x(s.fromS() + bin * s.binS());
    }

    /** From lowest to highest value of each bin, as filled areas broken where values are missing. */
    private void envelope(PlateSeries.Bins bins, Scale scale, String fill) {
        Sheet.Path path = new Sheet.Path();
        int n = bins.low().length;
        int i = 0;
        while (i < n) {
            if (Float.isNaN(bins.low()[i])) {
                i++;
                continue;
            }
            int end = i;
            while (end < n && !Float.isNaN(bins.low()[end])) {
                end++;
            }
            path.move(binX(i), scale.clamped(bins.high()[i]));
            for (int k = i; k < end; k++) {
                path.line(binX(k + 0.5), scale.clamped(bins.high()[k]));
            }
            path.line(binX(end), scale.clamped(bins.high()[end - 1]));
            path.line(binX(end), scale.clamped(bins.low()[end - 1]));
            for (int k = end - 1; k >= i; k--) {
                path.line(binX(k + 0.5), scale.clamped(bins.low()[k]));
            }
            path.line(binX(i), scale.clamped(bins.low()[i])).close();
            i = end;
        }
        sheet.fill(path, fill);
    }

    /** The middle values, broken where values are missing and where two neighbours differ by more than {@code jump}. */
    private void line(float[] middle, Scale scale, String ink, double widthPt, double jump) {
        Sheet.Path path = new Sheet.Path();
        boolean drawing = false;
        for (int i = 0; i < middle.length; i++) {
            if (Float.isNaN(middle[i])) {
                drawing = false;
                continue;
            }
            double px = binX(i + 0.5);
            double py = scale.clamped(middle[i]);
            if (drawing && Math.abs(middle[i] - middle[i - 1]) <= jump) {
                path.line(px, py);
            } else {
                boolean alone = i + 1 >= middle.length || Float.isNaN(middle[i + 1]);
                path.move(alone ? px - 0.3 : px, py);
                if (alone) {
                    path.line(px + 0.3, py);
                }
            }
            drawing = true;
        }
        sheet.stroke(path, ink, widthPt);
    }

    // ---- axes, marks, legend

    private void clockAxis(double y) {
        Instant first = plate.firstSample();
        if (first == null) {
            return;
        }
        ZoneId zone = plate.zone();
        Ticks ticks =
                Ticks.clock(first.plusMillis(Math.round(plate.releaseS() * 1000)), zone, time.from(), time.to(), 8);
        sheet.text(
                left - 4,
                y - 2,
                zone.getId().equals("Z")
                        ? "UTC"
                        : zone.getId().replaceAll(".*/", "").replace('_', ' '),
                Look.SMALL_PT,
                Mark.Anchor.END,
                Look.FAINT_INK);
        double lastEnd = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < ticks.values().length; i++) {
            double at = time.pt(ticks.values()[i]);
            sheet.line(at, y, at, y + 2.5, Look.FAINT_INK, Look.HAIR_PT);
            double half = TextWidth.pt(ticks.labels()[i], Look.SMALL_PT) / 2;
            if (at - half > lastEnd + 3 && at - half > left - 2 && at + half < right + RIGHT_PT) {
                sheet.text(at, y - 2, ticks.labels()[i], Look.SMALL_PT, Mark.Anchor.MIDDLE, Look.FAINT_INK);
                lastEnd = at + half;
            }
        }
        sheet.line(left, y + 2.5, right, y + 2.5, Look.RULE, Look.HAIR_PT);
    }

    private double hoursAxis(double y) {
        sheet.line(left, y, right, y, Look.INK, Look.HAIR_PT);
        Ticks ticks = Ticks.elapsedHours(time.from(), time.to(), 10);
        for (int i = 0; i < ticks.values().length; i++) {
            double at = time.pt(ticks.values()[i]);
            sheet.line(at, y, at, y + 3, Look.INK, Look.HAIR_PT);
            sheet.text(at, y + 10, ticks.labels()[i], Look.SMALL_PT, Mark.Anchor.MIDDLE, Look.INK);
        }
        sheet.text(
                (left + right) / 2,
                y + 20,
                "hours since the animal was released",
                Look.NORMAL_PT,
                Mark.Anchor.MIDDLE,
                Look.INK);
        return y + 22;
    }

    private void marks(double bottom, double labelTop) {
        double released = time.clamped(0);
        sheet.line(released, labelTop + 2, released, bottom, Look.INK, Look.LINE_PT);
        placed(released, labelTop, "released");
        if (!Double.isNaN(plate.detachmentS())) {
            double off = x(plate.detachmentS());
            sheet.dashed(off, labelTop + 2, off, bottom, Look.INK, Look.LINE_PT, "4 2");
            placed(off, labelTop, "package off, " + hours(plate.detachmentS()));
        }
        Plate.Change change = plate.change();
        if (change != null) {
            double at = x(change.atS());
            sheet.dashed(at, labelTop + 10, at, bottom, Look.RUST, Look.BOLD_PT, "1.5 2");
            boolean sharp = change.highS() - change.lowS() < 360;
            double afterH = (change.atS() - plate.releaseS()) / 3600;
            String text = change.what() + " at " + (afterH < 0.5 / 60 ? "release" : PlainWords.duration(afterH))
                    + (sharp ? "" : " (" + hourNumber(change.lowS()) + " to " + hours(change.highS()) + ")");
            placed(at, labelTop + 9, text);
        }
    }

    private void placed(double x, double y, String text) {
        double width = TextWidth.pt(text, Look.NORMAL_PT);
        if (x + 3 + width <= sheet.widthPt - 2) {
            sheet.text(x + 3, y, text, Look.NORMAL_PT, Mark.Anchor.START, Look.INK);
        } else {
            sheet.text(x - 3, y, text, Look.NORMAL_PT, Mark.Anchor.END, Look.INK);
        }
    }

    private String hours(double secondsFromFirst) {
        return hourNumber(secondsFromFirst) + " h";
    }

    private String hourNumber(double secondsFromFirst) {
        return Num.fixed((secondsFromFirst - plate.releaseS()) / 3600, 1);
    }

    private double legend(double top) {
        Legend legend = new Legend(sheet, left, right, top);
        Set<BoutKind> kinds = EnumSet.noneOf(BoutKind.class);
        plate.bouts().forEach(bout -> kinds.add(bout.kind()));
        for (BoutKind kind : kinds) {
            legend.item(PlainWords.bout(kind), 14, (x, y) -> {
                BoutStyle.of(kind).draw(sheet, x, y - 7, 14, 9);
                sheet.frame(x, y - 7, 14, 9, Look.RULE, Look.HAIR_PT);
            });
        }
        Set<Event.Kind> happened = EnumSet.noneOf(Event.Kind.class);
        plate.events().forEach(event -> happened.add(event.kind()));
        for (Event.Kind kind : happened) {
            legend.item(kind.word(), 8, (x, y) -> eventMark(kind, x + 4, y - 7));
        }
        if (plate.change() != null) {
            legend.item("interval of the change", 14, (x, y) -> sheet.box(x, y - 7, 14, 9, Look.SAND));
        }
        if (!plate.nights().isEmpty()) {
            legend.item("night", 14, (x, y) -> {
                sheet.box(x, y - 7, 14, 9, Look.NIGHT);
                sheet.frame(x, y - 7, 14, 9, Look.RULE, Look.HAIR_PT);
            });
        }
        if (!plate.gaps().isEmpty()) {
            legend.item("no samples", 14, (x, y) -> {
                sheet.hatch(x, y - 7, 14, 9, Sheet.Hatch.RISING, Look.RULE, 4);
                sheet.frame(x, y - 7, 14, 9, Look.RULE, Look.HAIR_PT);
            });
        }
        double next = legend.finish();
        String note = "Line: median. Pale area: lowest to highest value in each "
                + Num.fixed(plate.series().binS(), plate.series().binS() < 10 ? 1 : 0)
                + " s. Sway: areas are ± √2 times its root mean square in the tailbeat band (blue: median, grey:"
                + " highest), line: beat amplitude. What goes beyond a panel is cut at its edge.";
        return sheet.paragraph(left, next + 2, right - left, note, Look.SMALL_PT, Look.FAINT_INK) - 3;
    }

    private String describe() {
        StringBuilder out = new StringBuilder("Ribbon of bouts and six panels (depth, sway, beat frequency, pitch,"
                + " roll, temperature) against hours since release. ");
        for (BoutKind kind : BoutKind.values()) {
            double total = plate.bouts().stream()
                    .filter(b -> b.kind() == kind)
                    .mapToDouble(b -> b.endS() - b.startS())
                    .sum();
            if (total > 0) {
                out.append(PlainWords.bout(kind))
                        .append(' ')
                        .append(Num.fixed(total / 3600, 1))
                        .append(" h; ");
            }
        }
        double[] depth = plate.series().depthM().range();
        if (depth != null) {
            out.append("depth ")
                    .append(Num.fixed(depth[0], 1))
                    .append(" to ")
                    .append(Num.fixed(depth[1], 1))
                    .append(" m. ");
        }
        Plate.Change change = plate.change();
        if (change != null) {
            out.append(change.what()).append(" at ").append(hours(change.atS())).append(".");
        }
        return out.toString();
    }
}
