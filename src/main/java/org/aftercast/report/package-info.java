/**
 * Figures, tables and documents from results. Receives result types only; reads no raw samples and no database; opens
 * no files: writers take an {@code OutputStream} or return a {@code String}.
 *
 * <p>Figures: {@link org.aftercast.report.Figure} is a list of marks on a sheet of fixed size; {@link
 * org.aftercast.report.FigureFiles} writes it as SVG, PNG or PDF.
 */
@NullMarked
package org.aftercast.report;

import org.jspecify.annotations.NullMarked;
