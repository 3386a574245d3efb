/**
 * Figures, tables and documents from results. Receives result types only; reads no raw samples and no database; opens
 * no files: writers take an {@code OutputStream} or return a {@code String}.
 *
 * <p>Figures: {@link org.aftercast.report.Figure} is a list of marks on a sheet of fixed size; {@link
 * org.aftercast.report.FigureFiles} writes it as SVG, PNG or PDF.
 *
 * <p>Documents: {@link org.aftercast.report.StudyReport} is the one input; {@link org.aftercast.report.StudyDocument}
 * writes it as a page and as PDF from the same source.
 */
@NullMarked
package org.aftercast.report;

import org.jspecify.annotations.NullMarked;
