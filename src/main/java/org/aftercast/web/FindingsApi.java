package org.aftercast.web;

import io.javalin.http.Context;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.aftercast.estimate.AnimalOutcome;
import org.aftercast.estimate.EstimateResult;
import org.aftercast.voyage.Blindness;
import org.aftercast.voyage.EstimateStudy;
import org.aftercast.voyage.ReportStudy;
import org.aftercast.voyage.StudyOutcomes;
import org.jspecify.annotations.Nullable;

/** What all animals together say, and the report. */
final class FindingsApi {

    private static final Map<String, String> REPORTS =
            Map.of("report.html", "text/html; charset=utf-8", "report.pdf", "application/pdf");

    private final Desk desk;
    private final Gate gate;

    FindingsApi(Desk desk, Gate gate) {
        this.desk = desk;
        this.gate = gate;
    }

    List<Route> routes() {
        return List.of(
                new Route("GET", "/api/findings", Role.VIEW, this::findings),
                new Route("POST", "/api/report", Role.RECORD, this::write),
                new Route("GET", "/api/report/{file}", Role.VIEW, this::file));
    }

    /** One animal as it enters the estimate. */
    record Entered(
            String animal,
            org.aftercast.fate.@Nullable AnimalFate fate,
            org.aftercast.fate.@Nullable RecordEnd end,
            @Nullable Double atRiskH,
            StudyOutcomes.DecidedBy decidedBy,
            boolean hasReading) {}

    /** While somebody is still to judge an animal, what it is counted as is kept from them. */
    private static Entered entered(StudyOutcomes.Decided d, boolean hidden) {
        AnimalOutcome o = d.outcome();
        return new Entered(
                o.animal(),
                hidden ? null : o.fate(),
                hidden ? null : o.end(),
                hidden ? null : o.atRiskH(),
                d.decidedBy(),
                d.reading() != null);
    }

    private void findings(Context ctx) throws Exception {
        List<StudyOutcomes.Decided> decided = desk.look(StudyOutcomes::of);
        String who = Desk.whoOrNull(ctx, gate.device(ctx));
        Set<String> blind = new HashSet<>();
        desk.look(store -> {
            for (StudyOutcomes.Decided d : decided) {
                String animal = d.outcome().animal();
                if (d.reading() != null && Blindness.isBlind(store, animal, who)) {
                    blind.add(animal);
                }
            }
            return 0;
        });
        List<AnimalOutcome> outcomes =
                decided.stream().map(StudyOutcomes.Decided::outcome).toList();
        Map<String, @Nullable Object> answer = new LinkedHashMap<>();
        answer.put(
                "animals",
                decided.stream()
                        .map(d -> entered(d, blind.contains(d.outcome().animal())))
                        .toList());
        if (outcomes.isEmpty()) {
            answer.put("estimate", null);
        } else {
            EstimateResult result = desk.look(
                            store -> EstimateStudy.declared(store, desk.folder().toString()))
                    .estimate();
            EstimateResult told = blind.isEmpty() ? result : result.withoutNames();
            answer.put("estimate", told);
            answer.put("blocks", desk.look(store -> EstimateStudy.blocks(store, told)));
            answer.put("methods", desk.look(store -> EstimateStudy.methods(store, told)));
        }
        Json.answer(ctx, answer);
    }

    private void write(Context ctx) throws Exception {
        ReportStudy.Written written = desk.write(() ->
                new ReportStudy(desk.files(), desk.clock()).write(desk.folder(), ReportStudy.Request.everything()));
        Path folder = desk.folder().toAbsolutePath();
        Json.answer(
                ctx,
                Map.of(
                        "files",
                        written.files().stream()
                                .map(file -> folder.relativize(file.toAbsolutePath())
                                        .toString()
                                        .replace('\\', '/'))
                                .toList()));
    }

    private void file(Context ctx) throws ApiException, IOException {
        String name = ctx.pathParam("file");
        String type = REPORTS.get(name);
        Path file = desk.folder().resolve("reports").resolve(name);
        if (type == null || !Files.isRegularFile(file)) {
            throw ApiException.notFound("there is no report \"" + name + "\" yet; write it first");
        }
        // The report is one self-contained file with its own style; it may run nothing and fetch nothing.
        ctx.header(
                "Content-Security-Policy",
                "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; sandbox");
        ctx.contentType(type).result(Files.readAllBytes(file));
    }
}
