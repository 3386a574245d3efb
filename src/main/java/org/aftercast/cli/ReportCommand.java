package org.aftercast.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.concurrent.Callable;
import org.aftercast.report.FigureSet;
import org.aftercast.study.FileStore;
import org.aftercast.voyage.ReportStudy;
import org.aftercast.voyage.ReportStudy.Product;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code aftercast report}. */
@Command(
        name = "report",
        mixinStandardHelpOptions = true,
        description = "Writes the report of a study into its folder reports: HTML, PDF, figures, open data.")
@SuppressWarnings("NullAway.Init") // filled by picocli
final class ReportCommand implements Callable<Integer> {

    @Parameters(index = "0", paramLabel = "DIR", description = "Folder of the study.")
    private Path folder;

    @Option(
            names = "--only",
            paramLabel = "PRODUCT",
            split = ",",
            description = "Only these: html, pdf, figures, data (default: all).")
    private Set<Product> only = EnumSet.allOf(Product.class);

    @Option(names = "--author", paramLabel = "NAME", description = "For the citation; repeat for each author.")
    private List<String> authors = List.of();

    @Option(
            names = "--licence",
            paramLabel = "ID",
            description = "Licence of the data, an SPDX name such as CC-BY-4.0.")
    private @Nullable String licence;

    @Option(
            names = "--scientific-name",
            paramLabel = "NAME",
            description = "Latin name of the species, for data exchange (default: the study's species if it is one).")
    private @Nullable String scientificName;

    @Option(
            names = "--plate-png",
            description = "The figures of single animals as PNG at 600 dpi too (they come as SVG and PDF anyway).")
    private boolean platePng;

    @Mixin
    private final EstimateOptions options = new EstimateOptions();

    @Spec
    private CommandSpec spec;

    @Override
    public Integer call() throws Exception {
        FigureSet.PlateImages plates = platePng ? FigureSet.PlateImages.WITH_PNG : FigureSet.PlateImages.VECTOR_ONLY;
        try {
            options.settings();
        } catch (IllegalArgumentException bad) {
            throw new ParameterException(spec.commandLine(), bad.getMessage(), bad);
        }
        ReportStudy.Request request =
                new ReportStudy.Request(only, options::ofStudy, authors, licence, scientificName, plates);
        ReportStudy.Written written =
                new ReportStudy(FileStore.onDisk(), InstantSource.system()).write(folder, request);
        PrintWriter out = spec.commandLine().getOut();
        long read = written.report().animals().stream()
                .filter(a -> a.reading() != null)
                .count();
        out.println(written.report().about().title() + ": "
                + written.report().animals().size() + " animals, " + read + " with a reading.");
        if (read == 0) {
            out.println("No recording has been read yet. Next: aftercast read " + folder);
        }
        written.files().forEach(file -> out.println("Written: " + file));
        out.flush();
        return 0;
    }
}
