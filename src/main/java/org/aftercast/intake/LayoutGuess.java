package org.aftercast.intake;

import java.io.IOException;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.aftercast.intake.DownloadLayout.ColumnForm;
import org.aftercast.intake.DownloadLayout.TextForm;
import org.aftercast.intake.DownloadLayout.TimeForm;
import org.aftercast.recording.Channel;
import org.jspecify.annotations.Nullable;

/**
 * What a file seems to be, guessed from its first lines, with a reason for every column.
 *
 * @param layout the layout, or null if none can be built
 * @param columns every column of the file and what it was taken for
 * @param ambiguities what cannot be decided without being told; empty if the guess can be trusted
 * @param notes how the text was understood, line by line
 */
public record LayoutGuess(
        @Nullable DownloadLayout layout, List<ColumnGuess> columns, List<String> ambiguities, List<String> notes) {

    private static final String NO_AXES = "no acceleration axes were found";

    public LayoutGuess {
        columns = List.copyOf(columns);
        ambiguities = List.copyOf(ambiguities);
        notes = List.copyOf(notes);
    }

    /**
     * One column of the file.
     *
     * @param number from 1
     * @param name as in the header; empty without one
     * @param takenFor what it was taken for: {@code time}, {@code accXG} …, or {@code not used}
     * @param reason why
     */
    public record ColumnGuess(int number, String name, String takenFor, String reason) {}

    /** Whether nothing needs to be asked. */
    public boolean isUnambiguous() {
        return layout != null && ambiguities.isEmpty();
    }

    /**
     * The layout, if nothing needs to be asked.
     *
     * @param file name used in the error
     * @throws ImportException that lists what is ambiguous
     */
    public DownloadLayout layoutOrThrow(String file) throws ImportException {
        if (layout == null || !ambiguities.isEmpty()) {
            throw new ImportException(
                    file,
                    0,
                    0,
                    "cannot be read without a layout: " + String.join("; ", ambiguities),
                    "a layout (--layout), or a file that leaves no doubt");
        }
        return layout;
    }

    /**
     * Guesses from the head of a file.
     *
     * @param file the file
     * @param options what is known beyond the file
     * @throws ImportException if the file is not text at all
     */
    public static LayoutGuess of(java.nio.file.Path file, ImportOptions options) throws ImportException {
        try (TextBytes text = TextBytes.open(file)) {
            return of(TextHead.of(text.file(), new BlockReader(text, 1 << 20).head()), options);
        } catch (ImportException problem) {
            throw problem;
        } catch (IOException problem) {
            throw new ImportException(file.toString(), 0, 0, "cannot be read", "a text file that may be read");
        }
    }

    /**
     * Guesses files that are to be joined. A file without acceleration axes is no doubt then, if another one has them.
     *
     * @param files in the order in which they are joined
     * @throws ImportException if one is not text at all
     */
    public static List<LayoutGuess> ofAll(List<java.nio.file.Path> files, ImportOptions options)
            throws ImportException {
        List<LayoutGuess> guesses = new ArrayList<>();
        for (java.nio.file.Path file : files) {
            guesses.add(of(file, options));
        }
        if (guesses.stream().anyMatch(LayoutGuess::isUnambiguous)) {
            guesses.replaceAll(LayoutGuess::asOneSensor);
        }
        return guesses;
    }

    /** This guess beside a file that has the acceleration axes. */
    private LayoutGuess asOneSensor() {
        if (layout == null || !ambiguities.contains(NO_AXES)) {
            return this;
        }
        List<String> left = new ArrayList<>(ambiguities);
        left.remove(NO_AXES);
        List<String> said = new ArrayList<>(notes);
        said.add("no acceleration axes: taken for another sensor beside the file that has them");
        return new LayoutGuess(layout, columns, left, said);
    }

    static LayoutGuess of(TextHead head, ImportOptions options) {
        TableShape shape = TableShape.of(head);
        if (shape == null) {
            return new LayoutGuess(
                    null,
                    List.of(),
                    List.of("no table was found: no delimiter cuts the rows into the same number of fields"),
                    List.of());
        }
        return new Guessing(shape, options).run();
    }

    /** One guess under construction. */
    private static final class Guessing {
        /** So many column names stand in a message. */
        private static final int MOST_NAMES = 12;

        private final TableShape shape;
        private final ImportOptions options;
        private final List<String> ambiguities = new ArrayList<>();
        private final List<String> notes = new ArrayList<>();
        private final String[] takenFor;
        private final String[] reason;
        private final Map<Channel, Integer> fieldOf = new EnumMap<>(Channel.class);
        private final Map<Channel, Unit> unitOf = new EnumMap<>(Channel.class);

        Guessing(TableShape shape, ImportOptions options) {
            this.shape = shape;
            this.options = options;
            this.takenFor = new String[shape.fields()];
            this.reason = new String[shape.fields()];
        }

        LayoutGuess run() {
            notes.addAll(shape.notes());
            TimeGuess time = TimeGuess.of(shape, options);
            for (int f : time.fields()) {
                takenFor[f] = "time";
                reason[f] = time.reason();
            }
            ambiguities.addAll(time.ambiguities());
            notes.addAll(time.notes());
            channels();
            axes();
            units();
            List<ColumnForm> columns = new ArrayList<>();
            for (Map.Entry<Channel, Integer> entry : fieldOf.entrySet()) {
                columns.add(ColumnForm.of(
                        shape.columnName(entry.getValue()),
                        entry.getKey(),
                        unitOf.getOrDefault(entry.getKey(), Unit.G)));
            }
            List<ColumnGuess> guesses = new ArrayList<>();
            for (int f = 0; f < shape.fields(); f++) {
                guesses.add(new ColumnGuess(
                        f + 1,
                        shape.name(f),
                        takenFor[f] == null ? "not used" : takenFor[f],
                        reason[f] == null ? "no channel has such a name" : reason[f]));
            }
            TimeForm form = time.form();
            DownloadLayout layout = columns.isEmpty() || form == null
                    ? null
                    : DownloadLayout.of(
                            new TextForm(
                                    shape.delimiter(), shape.decimalMark(), shape.headerLine(), shape.firstDataLine()),
                            form,
                            columns);
            if (layout == null && ambiguities.isEmpty()) {
                ambiguities.add("no time and no rate were found");
            }
            return new LayoutGuess(layout, guesses, ambiguities, notes);
        }

        /** The column of a channel that was found. */
        private int field(Channel channel) {
            return fieldOf.getOrDefault(channel, -1);
        }

        private void channels() {
            for (int f = 0; f < shape.fields(); f++) {
                if (takenFor[f] != null) {
                    continue;
                }
                ColumnNames.Meaning meaning = ColumnNames.meaning(shape.name(f));
                if (meaning == null) {
                    continue;
                }
                Channel channel = meaning.channel();
                if (!shape.isNumeric(f)) {
                    reason[f] = "named like " + channel.columnName() + " but its values are not numbers";
                    continue;
                }
                Integer already = fieldOf.get(channel);
                if (already != null) {
                    ambiguities.add("columns " + NumberText.quote(shape.name(already)) + " and "
                            + NumberText.quote(shape.name(f)) + " both look like " + channel.columnName());
                    continue;
                }
                fieldOf.put(channel, f);
                takenFor[f] = channel.columnName();
                reason[f] = "its name";
                Unit unit = meaning.unit();
                if (unit == null) {
                    unit = ColumnNames.unit(shape.unitText(f));
                }
                if (unit != null && unit.quantity() == Unit.Quantity.of(channel)) {
                    unitOf.put(channel, unit);
                    reason[f] += "; " + unit.symbol() + " by " + (meaning.unit() != null ? "name" : "units row");
                }
            }
        }

        private void axes() {
            int axes = 0;
            for (Channel channel : fieldOf.keySet()) {
                axes += channel.isAcceleration() ? 1 : 0;
            }
            if (axes == 1 || axes == 2) {
                ambiguities.add("only " + axes + " of the three acceleration axes " + (axes == 1 ? "was" : "were")
                        + " found" + whereLooked());
            } else if (axes == 0) {
                ambiguities.add(
                        shape.headerLine() == 0 ? "there is no header line that says which column is which" : NO_AXES);
            }
        }

        /** The line and the columns in which the axes were looked for, so that the missing one can be named. */
        private String whereLooked() {
            if (shape.headerLine() == 0) {
                return "";
            }
            List<String> names = new ArrayList<>();
            for (int f = 0; f < Math.min(shape.fields(), MOST_NAMES); f++) {
                names.add(NumberText.quote(shape.name(f)));
            }
            return " in line " + shape.headerLine() + " (columns " + String.join(", ", names)
                    + (shape.fields() > MOST_NAMES ? " ..." : "") + ")";
        }

        private void units() {
            accelerationUnit();
            for (Channel channel : List.of(Channel.DEPTH, Channel.PRESSURE, Channel.TEMPERATURE)) {
                Integer field = fieldOf.get(channel);
                if (field == null || unitOf.containsKey(channel)) {
                    continue;
                }
                Unit unit = null;
                double mean = shape.mean(field);
                if (channel == Channel.DEPTH) {
                    unit = Unit.METRE;
                    reason[field] += "; no unit stands there, metres assumed";
                    notes.add("depth without a unit was taken as metres");
                } else if (channel == Channel.TEMPERATURE && mean < 28) {
                    unit = Unit.CELSIUS;
                    reason[field] += "; °C by size: sea water freezes at 28 °F";
                } else if (channel == Channel.TEMPERATURE && mean > 45) {
                    unit = Unit.FAHRENHEIT;
                    reason[field] += "; °F by size: no water that fish live in has 45 °C";
                }
                if (unit == null) {
                    ambiguities.add("the unit of column " + NumberText.quote(shape.name(field)) + " is not stated");
                    unit = channel == Channel.PRESSURE ? Unit.DECIBAR : Unit.CELSIUS;
                }
                unitOf.put(channel, unit);
            }
        }

        /** A body that moves freely still feels about one g on average: the size of the vector tells the unit. */
        private void accelerationUnit() {
            List<Channel> found =
                    fieldOf.keySet().stream().filter(Channel::isAcceleration).toList();
            if (found.isEmpty()) {
                return;
            }
            double size = found.size() == 3
                    ? shape.medianSize(
                            field(Channel.ACCELERATION_X), field(Channel.ACCELERATION_Y), field(Channel.ACCELERATION_Z))
                    : Double.NaN;
            Unit bySize = size > 0.5 && size < 3
                    ? Unit.G
                    : size > 5 && size < 30
                            ? Unit.METRE_PER_SECOND_SQUARED
                            : size > 500 && size < 3000 ? Unit.MILLI_G : null;
            for (Channel channel : found) {
                int field = field(channel);
                Unit unit = unitOf.get(channel);
                if (unit == null && bySize != null) {
                    unitOf.put(channel, bySize);
                    reason[field] += String.format(
                            Locale.ROOT,
                            "; %s by size: the three axes together have a median of %.3g",
                            bySize.symbol(),
                            size);
                } else if (unit == null) {
                    unitOf.put(channel, Unit.G);
                    if (found.size() == 3 && !ambiguities.contains("the unit of acceleration is not stated")) {
                        ambiguities.add("the unit of acceleration is not stated");
                    }
                } else if (bySize != null && unit != bySize) {
                    String doubt = String.format(
                            Locale.ROOT,
                            "acceleration is stated in %s but has a median size of %.3g, as it would in %s",
                            unit.symbol(),
                            size,
                            bySize.symbol());
                    if (!ambiguities.contains(doubt)) {
                        ambiguities.add(doubt);
                    }
                }
            }
        }
    }
}
