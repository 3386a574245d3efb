package org.aftercast.report;

import java.io.IOException;
import java.io.OutputStream;

/** Where several files are put; the caller decides what a path means. */
@FunctionalInterface
public interface Shelf {

    /** Writes the content of one file. */
    @FunctionalInterface
    interface Content {
        /** Writes everything; does not close. */
        void writeTo(OutputStream out) throws IOException;
    }

    /**
     * Puts one file.
     *
     * @param path relative, parts separated by {@code /}
     * @throws IOException if it cannot be written
     */
    void put(String path, Content content) throws IOException;
}
