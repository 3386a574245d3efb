package org.aftercast.voyage;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.TreeSet;
import java.util.function.UnaryOperator;
import org.aftercast.estimate.AnimalOutcome;
import org.aftercast.estimate.AnimalRecovery;
import org.aftercast.estimate.Estimate;
import org.aftercast.estimate.EstimateResult;
import org.aftercast.estimate.EstimateSettings;
import org.aftercast.estimate.LandedCounts;
import org.aftercast.estimate.PackageReturns;
import org.aftercast.estimate.RecoveryTrack;
import org.aftercast.report.EstimateSection;
import org.aftercast.report.PlanSection;
import org.aftercast.study.FileStore;
import org.aftercast.study.StudyStore;
import org.jspecify.annotations.Nullable;

/** From fates, in a table or a study, to an estimate. */
public final class EstimateStudy {

    private final FileStore files;

    public EstimateStudy(FileStore files) {
        this.files = files;
    }

    /**
     * Estimates from a table of fates (docs/estimate.md).
     *
     * @param fates the table
     * @param landed what was landed, or null
     * @param settings the choices
     * @throws BadInputException if the table has a bad cell, or a named column is missing
     */
    public EstimateDocument fromTable(Path fates, @Nullable LandedCounts landed, EstimateSettings settings)
            throws BadInputException {
        if (Files.isDirectory(fates)) {
            throw new BadInputException(
                    fates + ": is a folder; accepted: a table of fates as CSV, or a study's folder");
        }
        if (!Files.isRegularFile(fates)) {
            throw new BadInputException(
                    fates + ": there is no such file; accepted: a table of fates as CSV, or the folder of a study");
        }
        byte[] bytes;
        try {
            bytes = Files.readAllBytes(fates);
        } catch (IOException failure) {
            throw new BadInputException(fates + ": cannot be read (" + failure + "); accepted: a readable CSV file");
        }
        FatesCsv.Table table = FatesCsv.table(fates.toString(), bytes);
        checkColumns(fates.toString(), table.animals(), settings, EstimateSettings.defaults());
        checkLandings(table.animals(), landed);
        Path name = fates.getFileName();
        return document(
                String.valueOf(name),
                sha256(bytes),
                Estimate.of(table.animals(), landed, table.recoveries(), List.of(), settings));
    }

    /**
     * Estimates from a study: settled verdicts before the program's fates. Changes nothing.
     *
     * @param folder the study
     * @param landed what was landed, or null
     * @param choices from what the study has declared (horizon, deaths that count, clusters, risk factors) to what is used
     * @param clock for opening the study
     * @throws BadInputException if it holds no animal that counts, or a named column is missing
     * @throws IOException if there is no study or it cannot be read
     */
    public EstimateDocument fromStudy(
            Path folder, @Nullable LandedCounts landed, UnaryOperator<EstimateSettings> choices, InstantSource clock)
            throws BadInputException, IOException {
        try (StudyStore store = StudyStore.open(folder, StudyStore.Access.READ, files, clock)) {
            List<StudyOutcomes.Decided> decided = StudyOutcomes.of(store);
            List<AnimalOutcome> animals =
                    decided.stream().map(StudyOutcomes.Decided::outcome).toList();
            if (animals.isEmpty()) {
                throw new BadInputException(folder + ": no released animal has a fate yet; accepted: a study with at"
                        + " least one recording loaded and read, or one package lost");
            }
            EstimateSettings declared = ReportStudy.declared(store, animals);
            EstimateSettings settings = choices.apply(declared);
            checkColumns(folder.toString(), animals, settings, declared);
            checkLandings(animals, landed);
            StudyLandings.Found found =
                    landed == null ? StudyLandings.of(store) : new StudyLandings.Found(landed, null);
            return document(
                    String.valueOf(folder.toAbsolutePath().normalize().getFileName()),
                    null,
                    of(
                            animals,
                            found,
                            StudyReturns.of(store),
                            StudyRecoveries.of(store, decided),
                            StudyRecoveries.tracks(store, decided),
                            settings));
        }
    }

    private static void checkLandings(List<AnimalOutcome> animals, @Nullable LandedCounts landed)
            throws BadInputException {
        String misfit = landed == null ? null : landed.misfit(animals.size());
        if (misfit != null) {
            throw new BadInputException("landings: " + misfit + " Accepted: --landed at least the sum of the others");
        }
    }

    /** The parts of an estimate that are shown as sentences and tables, as in the report. */
    public static List<EstimateSection.Block> blocks(StudyStore store, EstimateResult result) throws IOException {
        List<EstimateSection.Block> blocks = new ArrayList<>(EstimateBlocks.of(result, new Judge(store).agreement()));
        PlanSection plan = PlanSections.of(
                store,
                result,
                StudyOutcomes.of(store).stream()
                        .map(StudyOutcomes.Decided::outcome)
                        .toList());
        if (plan != null) {
            blocks.add(0, PlanSections.block(plan));
        }
        return blocks;
    }

    /** The parts that a table of fates cannot have: how the readers agree, and what came of the plan. */
    public List<EstimateSection.Block> ofStudyOnly(Path folder, EstimateResult result, InstantSource clock)
            throws IOException {
        try (StudyStore store = StudyStore.open(folder, StudyStore.Access.READ, files, clock)) {
            List<EstimateSection.Block> all = blocks(store, result);
            return all.stream()
                    .filter(block -> block.title().equals(PlanSection.TITLE)
                            || block.title().equals(EstimateBlocks.READERS))
                    .toList();
        }
    }

    /** Every method of an estimate with what it assumes, or why it gave no answer, as in the report. */
    public static List<EstimateSection.MethodNote> methods(StudyStore store, EstimateResult result) throws IOException {
        return EstimateSections.methods(result, new Judge(store).agreement());
    }

    /** The estimate of a study's animals, with what was landed before them. */
    static EstimateResult of(
            List<AnimalOutcome> animals,
            StudyLandings.Found landings,
            PackageReturns returns,
            List<AnimalRecovery> recoveries,
            List<RecoveryTrack> tracks,
            EstimateSettings settings) {
        EstimateResult result = Estimate.of(animals, landings.counts(), returns, recoveries, tracks, settings);
        String remark = landings.remark();
        return remark == null ? result : result.withLimit(remark);
    }

    /** Estimates from an open study that holds a fate, with what it has declared. */
    public static EstimateDocument declared(StudyStore store, String source) throws IOException {
        List<StudyOutcomes.Decided> decided = StudyOutcomes.of(store);
        List<AnimalOutcome> animals =
                decided.stream().map(StudyOutcomes.Decided::outcome).toList();
        EstimateSettings settings = ReportStudy.declared(store, animals);
        return document(
                source,
                null,
                of(
                        animals,
                        StudyLandings.of(store),
                        StudyReturns.of(store),
                        StudyRecoveries.of(store, decided),
                        StudyRecoveries.tracks(store, decided),
                        settings));
    }

    static EstimateDocument document(String source, @Nullable String sha256, EstimateResult result) {
        return new EstimateDocument(
                EstimateDocument.FORMAT, EstimateDocument.VERSION, EstimateDocument.MADE_BY, source, sha256, result);
    }

    /**
     * Writes the estimate as JSON, wholly or not at all.
     *
     * @throws IOException if it cannot be written
     */
    public void writeJson(EstimateDocument document, Path target) throws IOException {
        files.write(target, ResultJson.of(document));
    }

    /** Columns named by hand must be there; what the study itself declares may wait for its animals. */
    static void checkColumns(
            String file, List<AnimalOutcome> animals, EstimateSettings settings, EstimateSettings declared)
            throws BadInputException {
        List<String> ofStudy = declared.columnsNamed();
        TreeSet<String> known = new TreeSet<>();
        animals.forEach(animal -> {
            known.addAll(animal.groups().keySet());
            known.addAll(animal.covariates().keySet());
        });
        List<String> problems = new ArrayList<>();
        for (String column : settings.columnsNamed()) {
            if (!known.contains(column) && !ofStudy.contains(column)) {
                problems.add(file + ": there is no column \"" + column + "\" with values; accepted: "
                        + (known.isEmpty() ? "none, the table has no further columns" : String.join(", ", known)));
            }
        }
        if (!problems.isEmpty()) {
            throw new BadInputException(problems);
        }
    }

    private static String sha256(byte[] bytes) {
        try {
            return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
        } catch (NoSuchAlgorithmException impossible) {
            throw new IllegalStateException("every Java has SHA-256", impossible);
        }
    }
}
