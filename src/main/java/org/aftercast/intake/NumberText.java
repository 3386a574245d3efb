package org.aftercast.intake;

import ch.randelshofer.fastdoubleparser.JavaDoubleParser;
import java.nio.charset.StandardCharsets;
import java.util.Locale;

/** Decimal numbers from bytes, correctly rounded; what stands for a missing value is {@code NaN}. */
final class NumberText {

    private static final int LONGEST_SHOWN = 24;
    private static final int LONGEST_NUMBER = 400;

    private static final double[] TENS = {
        1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19,
        1e20, 1e21, 1e22
    };

    private NumberText() {}

    /** Ten to the power {@code n}, 0 ≤ n ≤ 22, exactly. */
    static double ten(int n) {
        return TENS[n];
    }

    /**
     * Reads a number from trimmed bytes.
     *
     * @param mark the decimal mark, {@code '.'} or {@code ','}
     * @return the nearest double, or {@code NaN} if the field is empty or says that the value is missing
     * @throws RowProblem (line and column 0) if it is something else
     */
    static double read(byte[] b, int from, int to, char mark) throws RowProblem {
        int at = from;
        if (at == to) {
            return Double.NaN;
        }
        boolean negative = b[at] == '-';
        if (negative || b[at] == '+') {
            at++;
        }
        long mantissa = 0;
        int digits = 0;
        int decimals = 0;
        boolean fraction = false;
        for (; at < to; at++) {
            int c = b[at];
            if (c >= '0' && c <= '9') {
                mantissa = mantissa * 10 + (c - '0');
                digits++;
                decimals += fraction ? 1 : 0;
            } else if (c == mark && !fraction) {
                fraction = true;
            } else {
                return slow(b, from, to, mark);
            }
        }
        // Exact: both the digits and the power of ten fit a double, so one division rounds correctly.
        if (digits == 0 || digits > 15) {
            return slow(b, from, to, mark);
        }
        double value = mantissa / TENS[decimals];
        return negative ? -value : value;
    }

    private static double slow(byte[] b, int from, int to, char mark) throws RowProblem {
        if (to - from > LONGEST_NUMBER) {
            throw problem("a field of " + (to - from) + " characters where a number was expected", mark);
        }
        String text = new String(b, from, to - from, StandardCharsets.UTF_8);
        if (isMissing(text)) {
            return Double.NaN;
        }
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            boolean plain = (c >= '0' && c <= '9') || c == '+' || c == '-' || c == mark || c == 'e' || c == 'E';
            if (!plain) {
                throw problem(quote(text) + " is not a number", mark);
            }
        }
        try {
            double value = JavaDoubleParser.parseDouble(mark == '.' ? text : text.replace(mark, '.'));
            if (Double.isInfinite(value)) {
                throw problem(quote(text) + " is too large", mark);
            }
            return value;
        } catch (NumberFormatException notANumber) {
            throw problem(quote(text) + " is not a number", mark);
        }
    }

    /** Whether a field says that there is no value. */
    static boolean isMissing(String text) {
        return switch (text.toLowerCase(Locale.ROOT)) {
            case "", "nan", "na", "n/a", "null", "-", "--", "none" -> true;
            default -> false;
        };
    }

    /** A field as shown in an error: quoted, cut off, control characters replaced. */
    static String quote(String text) {
        StringBuilder shown = new StringBuilder("\"");
        for (int i = 0; i < Math.min(text.length(), LONGEST_SHOWN); i++) {
            char c = text.charAt(i);
            shown.append(Character.isISOControl(c) ? '?' : c);
        }
        return shown.append(text.length() > LONGEST_SHOWN ? "…\"" : "\"").toString();
    }

    private static RowProblem problem(String what, char mark) {
        return new RowProblem(
                0,
                0,
                what,
                mark == '.'
                        ? "a number such as -0.25, or an empty field for a missing value"
                        : "a number such as -0,25, or an empty field for a missing value");
    }
}
