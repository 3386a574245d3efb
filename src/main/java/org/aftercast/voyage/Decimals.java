package org.aftercast.voyage;

import java.math.BigDecimal;
import java.math.RoundingMode;

/** Numbers in sentences: no exponent, halves to the even digit, a true minus sign. */
final class Decimals {

    private Decimals() {}

    /** With so many decimals; {@code value} must be finite. */
    static String fixed(double value, int decimals) {
        String text = BigDecimal.valueOf(value)
                .setScale(decimals, RoundingMode.HALF_EVEN)
                .toPlainString();
        return text.startsWith("-") ? "−" + text.substring(1) : text;
    }

    /** With at most two decimals, none that are zero; {@code value} must be finite. */
    static String number(double value) {
        String text = BigDecimal.valueOf(value)
                .setScale(2, RoundingMode.HALF_EVEN)
                .stripTrailingZeros()
                .toPlainString();
        return text.startsWith("-") ? "−" + text.substring(1) : text;
    }
}
