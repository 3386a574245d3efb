package org.aftercast.report;

import java.math.BigDecimal;
import java.math.RoundingMode;

/** Numbers as text, the same on every machine whatever its language. */
final class Num {

    /** Shown where a value cannot be had. */
    static final String NONE = "–";

    private Num() {}

    /** At most two decimals, no trailing zeros: for coordinates. */
    static String coordinate(double value) {
        long hundredths = Math.round(value * 100);
        StringBuilder out = new StringBuilder(8);
        if (hundredths < 0) {
            out.append('-');
            hundredths = -hundredths;
        }
        out.append(hundredths / 100);
        int rest = (int) (hundredths % 100);
        if (rest != 0) {
            out.append('.').append((char) ('0' + rest / 10));
            if (rest % 10 != 0) {
                out.append((char) ('0' + rest % 10));
            }
        }
        return out.toString();
    }

    /** Fixed decimals with a proper minus sign; {@link #NONE} for NaN, ∞ for infinities. */
    static String fixed(double value, int decimals) {
        if (Double.isNaN(value)) {
            return NONE;
        }
        if (Double.isInfinite(value)) {
            return value > 0 ? "∞" : "−∞";
        }
        String plain = BigDecimal.valueOf(value)
                .setScale(decimals, RoundingMode.HALF_EVEN)
                .toPlainString();
        if (plain.startsWith("-")) {
            boolean zero = plain.chars().allMatch(c -> c == '-' || c == '0' || c == '.');
            return zero ? plain.substring(1) : "−" + plain.substring(1);
        }
        return plain;
    }

    /** A share 0–1 in per cent: one decimal below 10 %, none above, unless that would hide a difference from 0 or 1. */
    static String percent(double share) {
        if (Double.isNaN(share)) {
            return NONE;
        }
        double percent = share * 100;
        if (percent > 0 && percent < 0.05) {
            return "< 0.1 %";
        }
        if (percent > 99.95 && percent < 100) {
            return "> 99.9 %";
        }
        boolean nearAnEnd = (percent > 0 && percent < 10) || (percent > 90 && percent < 100);
        int decimals = nearAnEnd ? 1 : 0;
        return fixed(percent, decimals) + " %";
    }

    /** Three significant digits, for ratios and odds. */
    static String significant(double value) {
        if (Double.isNaN(value) || Double.isInfinite(value) || value == 0) {
            return fixed(value, 0);
        }
        int magnitude = (int) Math.floor(Math.log10(Math.abs(value)));
        if (magnitude > 5 || magnitude < -4) {
            double mantissa = value / Math.pow(10, magnitude);
            return fixed(mantissa, 1) + " × 10" + superscript(magnitude);
        }
        return fixed(value, Math.max(0, 2 - magnitude));
    }

    /** A raw number for data files: shortest text that reads back to the same value; empty for NaN and infinities. */
    static String data(double value) {
        if (Double.isNaN(value) || Double.isInfinite(value)) {
            return "";
        }
        if (value == Math.rint(value) && Math.abs(value) < 1e15) {
            return Long.toString((long) value);
        }
        return BigDecimal.valueOf(value).toPlainString();
    }

    private static String superscript(int number) {
        String digits = "⁰¹²³⁴⁵⁶⁷⁸⁹";
        StringBuilder out = new StringBuilder(number < 0 ? "⁻" : "");
        for (char c : Integer.toString(Math.abs(number)).toCharArray()) {
            out.append(digits.charAt(c - '0'));
        }
        return out.toString();
    }
}
