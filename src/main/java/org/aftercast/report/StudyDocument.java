package org.aftercast.report;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.aftercast.report.StudyReport.Origin;

/** The report of a study as one document: the same source as a self-contained page and as PDF. */
public final class StudyDocument {

    /** Width of the text, and so of full-width figures, on A4 with the margins of the style sheet. */
    static final double TEXT_WIDTH_MM = 174;

    private static final DateTimeFormatter DATE = DateTimeFormatter.ofPattern("d MMMM uuuu", Locale.ENGLISH);

    private final StudyReport report;
    private final Html html = new Html();
    private final List<String[]> contents = new ArrayList<>();

    private StudyDocument(StudyReport report) {
        this.report = report;
    }

    /** One HTML file, UTF-8, with everything inside: no script, no address is fetched. */
    public static String html(StudyReport report) {
        return new StudyDocument(report).page(Fonts.asStyle());
    }

    /** The same document as PDF on A4, with page numbers and bookmarks. */
    public static void pdf(StudyReport report, OutputStream out) throws IOException {
        StudyDocument document = new StudyDocument(report);
        String body = document.body();
        StringBuilder bookmarks = new StringBuilder("<bookmarks>");
        for (String[] entry : document.contents) {
            bookmarks
                    .append("<bookmark name=\"")
                    .append(SvgWriter.escape(entry[1]))
                    .append("\" href=\"#")
                    .append(entry[0])
                    .append("\">");
            if (entry[0].equals("each")) {
                for (AnimalSection animal : report.animals()) {
                    bookmarks
                            .append("<bookmark name=\"Animal ")
                            .append(SvgWriter.escape(animal.name()))
                            .append("\" href=\"#")
                            .append(anchor(report, animal))
                            .append("\"></bookmark>");
                }
            }
            bookmarks.append("</bookmark>");
        }
        PdfWriter.write(
                document.wrap(body, bookmarks.append("</bookmarks>").toString()),
                report.about().title(),
                out);
    }

    private String page(String inHead) {
        return wrap(body(), inHead);
    }

    private String wrap(String body, String inHead) {
        boolean invented = report.about().origin() == Origin.INVENTED;
        return "<!DOCTYPE html>\n<html xmlns=\"http://www.w3.org/1999/xhtml\" lang=\"en\" xml:lang=\"en\">\n<head>\n"
                + "<meta charset=\"UTF-8\"/>\n<title>"
                + SvgWriter.escape(report.about().title())
                + "</title>\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n"
                + "<meta name=\"description\" content=\"What became of each animal after its release, and what all of"
                + " them together say.\"/>\n<style>\n" + style() + (invented ? INVENTED_PAGES : "") + "</style>\n"
                + inHead
                + "</head>\n<body>\n" + body + "</body>\n</html>\n";
    }

    private static final String INVENTED_PAGES = "@page { @top-center { content: \"" + PlainWords.INVENTED
            + "\"; font-family: \"Liberation Sans\", Arial, sans-serif; font-size: 8pt; font-weight: bold;"
            + " color: #7a3413 } }\n";

    private static String style() {
        try (InputStream in = StudyDocument.class.getResourceAsStream("report.css")) {
            if (in == null) {
                throw new IllegalStateException(
                        "report.css: this style sheet should be part of the program and is not");
            }
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException unreadable) {
            throw new UncheckedIOException(unreadable);
        }
    }

    private String body() {
        Html middle = new Html();
        section(middle, "plain", "In plain words", FrontPart::plainWords);
        section(middle, "animals", "The animals", FrontPart::animals);
        if (report.plan() != null) {
            section(middle, "plan", PlanSection.TITLE, PlanPart::write);
        }
        section(middle, "estimate", "What all animals together say", EstimatePart::write);
        section(middle, "recovery", "Recovery", RecoveryPart::write);
        section(middle, "each", "Each animal", AnimalPart::write);
        section(middle, "methods", "Methods", MethodsPart::write);
        section(middle, "settings", "Settings and versions", SourcesPart::settings);
        section(middle, "sources", "Where every number comes from", SourcesPart::sources);

        if (report.about().origin() == Origin.INVENTED) {
            html.element("p", PlainWords.INVENTED, "class", "invented", "role", "note");
        }
        html.open("header");
        html.element("p", "Report on release and survival", "class", "kind");
        html.element("h1", report.about().title());
        html.element("p", under(), "class", "under");
        html.close("header");
        html.open("nav", "aria-label", "Contents").open("ol");
        for (String[] entry : contents) {
            html.open("li").raw(Html.link("#" + entry[0], entry[1]).markup()).close("li");
        }
        html.close("ol").close("nav");
        return html.raw("<main>\n").raw(middle.toString()).raw("</main>\n").toString();
    }

    /** Writes one part of the document. */
    @FunctionalInterface
    interface Part {
        void write(StudyReport report, Html html);
    }

    private void section(Html into, String id, String title, Part part) {
        contents.add(new String[] {id, title});
        into.open("section", "id", id, "class", "part").element("h2", title);
        part.write(report, into);
        into.close("section");
    }

    private String under() {
        StringBuilder out = new StringBuilder();
        StudyReport.About about = report.about();
        String species = about.species();
        if (species != null) {
            out.append(species).append(" · ");
        }
        String site = about.site();
        if (site != null) {
            out.append(site).append(" · ");
        }
        if (!about.authors().isEmpty()) {
            out.append(String.join(", ", about.authors())).append(" · ");
        }
        return out.append("data as of ")
                .append(about.asOf().format(DATE))
                .append(" · clock times in ")
                .append(about.zone().getId().equals("Z") ? "UTC" : about.zone().getId())
                .toString();
    }

    /** An anchor for an animal: letters, digits and hyphens only, the number keeps it unique. */
    static String anchor(StudyReport report, AnimalSection animal) {
        return "animal-" + (report.animals().indexOf(animal) + 1);
    }

    static String sourceAnchor(StudyReport report, AnimalSection animal) {
        return "source-" + (report.animals().indexOf(animal) + 1);
    }
}
