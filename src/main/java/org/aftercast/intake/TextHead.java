package org.aftercast.intake;

import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import org.aftercast.intake.DownloadLayout.Delimiter;

/** The first lines of a text, from which a layout is guessed and the header is read. */
final class TextHead {

    /** Bytes looked at. */
    static final int BYTES = 256 * 1024;

    private static final int MOST_LINES = 2000;
    private static final int MOST_FIELDS = 2000;

    private final String file;
    private final List<byte[]> lines;

    private TextHead(String file, List<byte[]> lines) {
        this.file = file;
        this.lines = lines;
    }

    /**
     * Cuts the head into lines; an unfinished last line counts only if it is the only one.
     *
     * @throws ImportException if the bytes are not text
     */
    static TextHead of(String file, byte[] head) throws ImportException {
        checkText(file, head);
        List<byte[]> lines = new ArrayList<>();
        int from = 0;
        for (int i = 0; i < head.length && lines.size() < MOST_LINES; i++) {
            if (head[i] == '\n' || head[i] == '\r') {
                lines.add(java.util.Arrays.copyOfRange(head, from, i));
                if (head[i] == '\r' && i + 1 < head.length && head[i + 1] == '\n') {
                    i++;
                }
                from = i + 1;
            }
        }
        if (from < head.length && lines.size() < MOST_LINES && (lines.isEmpty() || head.length < BYTES)) {
            lines.add(java.util.Arrays.copyOfRange(head, from, head.length));
        }
        return new TextHead(file, lines);
    }

    private static void checkText(String file, byte[] head) throws ImportException {
        int odd = 0;
        for (byte b : head) {
            if (b == 0) {
                throw binary(file);
            }
            odd += b > 0 && b < ' ' && b != '\t' && b != '\n' && b != '\r' && b != '\f' ? 1 : 0;
        }
        if (odd * 50 > head.length) {
            throw binary(file);
        }
    }

    private static ImportException binary(String file) {
        return new ImportException(file, 0, 0, "is a binary file", "text with a row per sample, plain or packed");
    }

    String file() {
        return file;
    }

    int lineCount() {
        return lines.size();
    }

    /** A line as text, counted from 0; UTF-8, or Latin-1 where it is not UTF-8. */
    String line(int index) {
        return decode(lines.get(index), 0, lines.get(index).length);
    }

    /** The fields of a line, counted from 0; an unclosed quote makes the whole line one field. */
    List<String> fields(int index, Delimiter delimiter) {
        byte[] b = lines.get(index);
        List<String> fields = new ArrayList<>();
        FieldCursor cursor = new FieldCursor(delimiter);
        cursor.start(b, 0, b.length);
        try {
            while (fields.size() < MOST_FIELDS && cursor.next()) {
                fields.add(decode(b, cursor.from, cursor.to).replace("\"\"", "\""));
            }
        } catch (RowProblem unclosed) {
            return List.of(line(index));
        }
        return fields;
    }

    /**
     * The names in the layout's header line; empty if the layout has none.
     *
     * @throws ImportException if the file has no such line
     */
    List<String> header(DownloadLayout layout) throws ImportException {
        int line = layout.text().headerLine();
        if (line == 0) {
            return List.of();
        }
        if (line > lines.size()) {
            throw new ImportException(
                    file, line, 0, "the header line is missing", "a file with at least " + line + " lines");
        }
        return fields(line - 1, layout.text().delimiter());
    }

    private static String decode(byte[] b, int from, int to) {
        try {
            return StandardCharsets.UTF_8
                    .newDecoder()
                    .onMalformedInput(CodingErrorAction.REPORT)
                    .decode(ByteBuffer.wrap(b, from, to - from))
                    .toString();
        } catch (CharacterCodingException notUtf8) {
            return new String(b, from, to - from, StandardCharsets.ISO_8859_1);
        }
    }
}
