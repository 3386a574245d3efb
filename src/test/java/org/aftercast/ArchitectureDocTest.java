package org.aftercast;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/** Keeps docs/architecture.md true: every file it names exists, and every arrow is a use in the code. */
class ArchitectureDocTest {

    private static final Path ROOT = Path.of(System.getProperty("aftercast.basedir", "."));
    private static final Pattern NAMED = Pattern.compile("`([a-z]+/[A-Z][A-Za-z]+)`");

    @Test
    void everyArrowIsAUse() throws IOException {
        int arrows = 0;
        List<String> broken = new ArrayList<>();
        for (String line : Files.readAllLines(ROOT.resolve("docs/architecture.md"))) {
            int arrow = line.indexOf('→');
            if (arrow < 0) {
                continue;
            }
            List<String> left = named(line.substring(0, arrow));
            List<String> right = named(line.substring(arrow));
            assertThat(left).as(line).hasSize(1);
            assertThat(right).as(line).isNotEmpty();
            Path from = source(left.get(0));
            if (!Files.exists(from)) {
                broken.add(left.get(0) + " does not exist");
                continue;
            }
            String text = Files.readString(from);
            for (String to : right) {
                arrows++;
                String simple = to.substring(to.indexOf('/') + 1);
                if (!Files.exists(source(to))) {
                    broken.add(to + " does not exist");
                } else if (!Pattern.compile("\\b" + simple + "\\b(?!`)")
                        .matcher(text)
                        .find()) {
                    broken.add(left.get(0) + " does not use " + to);
                }
            }
        }
        assertThat(broken).isEmpty();
        assertThat(arrows).isGreaterThan(25);
    }

    private static List<String> named(String part) {
        List<String> names = new ArrayList<>();
        Matcher m = NAMED.matcher(part);
        while (m.find()) {
            names.add(m.group(1));
        }
        return names;
    }

    private static Path source(String name) {
        return ROOT.resolve("src/main/java/org/aftercast/" + name + ".java");
    }
}
