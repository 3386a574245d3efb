package org.aftercast.web;

import com.google.zxing.BarcodeFormat;
import com.google.zxing.EncodeHintType;
import com.google.zxing.WriterException;
import com.google.zxing.common.BitMatrix;
import com.google.zxing.qrcode.QRCodeWriter;
import com.google.zxing.qrcode.decoder.ErrorCorrectionLevel;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/** An address as a QR code (ISO/IEC 18004), as rows of dark and light modules with the quiet zone it asks for. */
final class QrCode {

    private static final int QUIET_MODULES = 4;

    private QrCode() {}

    /** The code's rows, from the top: {@code #} dark, blank light. */
    static List<String> rows(String text) {
        BitMatrix matrix;
        try {
            // A size of 0 gives one pixel a module.
            matrix = new QRCodeWriter()
                    .encode(
                            text,
                            BarcodeFormat.QR_CODE,
                            0,
                            0,
                            Map.of(
                                    EncodeHintType.ERROR_CORRECTION,
                                    ErrorCorrectionLevel.M,
                                    EncodeHintType.MARGIN,
                                    QUIET_MODULES));
        } catch (WriterException tooLong) {
            throw new IllegalArgumentException("text: cannot be a QR code: " + tooLong.getMessage(), tooLong);
        }
        List<String> rows = new ArrayList<>();
        for (int y = 0; y < matrix.getHeight(); y++) {
            StringBuilder row = new StringBuilder();
            for (int x = 0; x < matrix.getWidth(); x++) {
                row.append(matrix.get(x, y) ? '#' : ' ');
            }
            rows.add(row.toString());
        }
        return rows;
    }

    /** The same for a terminal: two rows a line in half blocks, light modules drawn, so that it reads on a dark ground. */
    static List<String> lines(String text) {
        List<String> rows = rows(text);
        List<String> lines = new ArrayList<>();
        for (int y = 0; y < rows.size(); y += 2) {
            StringBuilder line = new StringBuilder();
            for (int x = 0; x < rows.get(y).length(); x++) {
                boolean upper = rows.get(y).charAt(x) == ' ';
                boolean lower = y + 1 >= rows.size() || rows.get(y + 1).charAt(x) == ' ';
                line.append(upper && lower ? '\u2588' : upper ? '\u2580' : lower ? '\u2584' : ' ');
            }
            lines.add(line.toString());
        }
        return lines;
    }
}
