package org.aftercast.intake;

/** Told how far an import is, and asked whether it should go on. */
public interface ImportProgress {

    /** Neither listens nor stops. */
    ImportProgress NONE = (done, total) -> {};

    /**
     * Told now and then.
     *
     * @param bytesDone raw bytes read
     * @param bytesTotal raw bytes altogether
     */
    void at(long bytesDone, long bytesTotal);

    /** Whether to give up; asked now and then. The import then throws {@code CancellationException}, nothing is kept. */
    default boolean isCancelled() {
        return false;
    }
}
