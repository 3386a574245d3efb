/**
 * The study folder: its records and their rules, the transactional store, migrations and history.
 *
 * <p>Sits above the domain rooms and persists their records. All files are written through
 * {@link org.aftercast.study.FileStore}.
 */
@NullMarked
package org.aftercast.study;

import org.jspecify.annotations.NullMarked;
