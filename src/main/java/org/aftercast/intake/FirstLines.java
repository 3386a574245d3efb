package org.aftercast.intake;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** The first lines of a download as text, for whoever must say how it is to be read. */
public final class FirstLines {

    private static final int LONGEST_CHARACTERS = 4000;

    private FirstLines() {}

    /**
     * The first lines, decoded and unpacked as reading the file would; each is cut after 4000 characters.
     *
     * @param file the file
     * @param most so many lines at most, 1 or more
     * @throws ImportException if the file cannot be read or is not text
     */
    public static List<String> of(Path file, int most) throws ImportException {
        try (TextBytes text = TextBytes.open(file)) {
            TextHead head = TextHead.of(text.file(), new BlockReader(text, 1 << 20).head());
            List<String> lines = new ArrayList<>();
            for (int i = 0; i < Math.min(most, head.lineCount()); i++) {
                String line = head.line(i);
                lines.add(line.length() <= LONGEST_CHARACTERS ? line : line.substring(0, LONGEST_CHARACTERS));
            }
            return lines;
        } catch (ImportException problem) {
            throw problem;
        } catch (IOException problem) {
            throw new ImportException(file.toString(), 0, 0, "cannot be read", "a text file that may be read");
        }
    }
}
