package org.aftercast.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.aftercast.study.Standing;
import org.aftercast.study.Words;
import org.aftercast.voyage.ListStudy;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code aftercast list}. */
@Command(
        name = "list",
        mixinStandardHelpOptions = true,
        description = "Shows where every animal stands and what it needs next, overdue packages first.")
@SuppressWarnings("NullAway.Init") // filled by picocli
final class ListCommand implements Callable<Integer> {

    @Parameters(index = "0", paramLabel = "DIR", description = "Folder of the study.")
    private Path folder;

    @Spec
    private CommandSpec spec;

    @Override
    public Integer call() throws Exception {
        ListStudy.Result result = new ListStudy(InstantSource.system()).of(folder);
        PrintWriter out = spec.commandLine().getOut();
        out.println(result.info().title());
        if (result.animals().isEmpty()) {
            out.println("No animals yet. Next: aftercast enter " + folder + " CAPTURES.csv");
            return 0;
        }
        List<List<String>> rows = new ArrayList<>();
        rows.add(List.of("animal", "stage", "package", "overdue h", "next"));
        for (Standing animal : result.animals()) {
            rows.add(List.of(
                    animal.animal(),
                    Words.of(animal.stage()),
                    animal.packageSerial() == null ? "-" : animal.packageSerial(),
                    animal.overdueH() > 0 ? String.format(Locale.ROOT, "%.1f", animal.overdueH()) : "",
                    animal.next()));
        }
        print(out, rows);
        return 0;
    }

    private static void print(PrintWriter out, List<List<String>> rows) {
        int columns = rows.get(0).size();
        int[] width = new int[columns];
        for (List<String> row : rows) {
            for (int c = 0; c < columns; c++) {
                width[c] = Math.max(width[c], row.get(c).length());
            }
        }
        for (List<String> row : rows) {
            StringBuilder line = new StringBuilder();
            for (int c = 0; c < columns; c++) {
                line.append(row.get(c)).append(" ".repeat(width[c] - row.get(c).length() + 2));
            }
            out.println(line.toString().stripTrailing());
        }
    }
}
