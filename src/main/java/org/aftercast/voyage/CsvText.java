package org.aftercast.voyage;

import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import de.siegmar.fastcsv.reader.FieldMismatchStrategy;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;

/** What every table of text shares: UTF-8, with or without a byte-order mark, and rows of separated fields. */
final class CsvText {

    private CsvText() {}

    /**
     * The text of a file.
     *
     * @throws BadInputException if it is not UTF-8; names the file
     */
    static String decode(String file, byte[] bytes) throws BadInputException {
        if (bytes.length > 1 && (bytes[0] & 0xff) + (bytes[1] & 0xff) == 0xff + 0xfe) {
            throw new BadInputException(file + ": is text in UTF-16; accepted: a CSV file saved as UTF-8");
        }
        String text;
        try {
            text = StandardCharsets.UTF_8
                    .newDecoder()
                    .decode(ByteBuffer.wrap(bytes))
                    .toString();
        } catch (CharacterCodingException failure) {
            throw new BadInputException(file + ": is not text in UTF-8; accepted: a CSV file saved as UTF-8");
        }
        return text.startsWith("\uFEFF") ? text.substring(1) : text;
    }

    /**
     * Its rows (RFC 4180), of any number of fields each.
     *
     * @param accepted what the error says would be accepted
     * @throws BadInputException if a quote is never closed, for instance; names the file
     */
    static List<CsvRecord> rows(String file, String text, char separator, String accepted) throws BadInputException {
        List<CsvRecord> rows = new ArrayList<>();
        try (CsvReader<CsvRecord> reader = CsvReader.builder()
                .fieldSeparator(separator)
                .extraFieldStrategy(FieldMismatchStrategy.IGNORE)
                .missingFieldStrategy(FieldMismatchStrategy.IGNORE)
                .ofCsvRecord(text)) {
            reader.forEach(rows::add);
        } catch (IOException | CsvParseException failure) {
            throw new BadInputException(
                    file + ": is not well-formed CSV (" + failure.getMessage() + "); accepted: " + accepted);
        }
        return rows;
    }
}
