/**
 * Figures, tables and documents from results. Receives result types only; reads no raw samples and no database.
 */
@NullMarked
package org.aftercast.report;

import org.jspecify.annotations.NullMarked;
