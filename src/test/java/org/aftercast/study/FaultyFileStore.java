package org.aftercast.study;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/** A disk that fails at one chosen step: full (an error) or gone with the whole machine (nothing is cleaned up). */
final class FaultyFileStore implements FileStore {

    /** How it fails. */
    enum Fault {
        /** The disk is full: half the content is written, then an error; the store cleans up as the real one does. */
        DISK_FULL,
        /** The machine stops before anything of this step is done. */
        STOP_BEFORE,
        /** The machine stops half-way through writing: a file aside is left. */
        STOP_HALF_WAY,
        /** The machine stops right after this step. */
        STOP_AFTER
    }

    /** The machine stopped; no code of the program runs after this. */
    static final class Stopped extends RuntimeException {
        private static final long serialVersionUID = 1L;
    }

    /** A disk that loses the last byte of one file and says nothing. */
    record Losing(FileStore disk, String name) implements FileStore {
        Losing(String name) {
            this(FileStore.onDisk(), name);
        }

        @Override
        public void write(Path target, Writer writer) throws IOException {
            disk.write(target, aside -> {
                writer.writeTo(aside);
                if (target.endsWith(name)) {
                    byte[] all = Files.readAllBytes(aside);
                    Files.write(aside, java.util.Arrays.copyOf(all, all.length - 1));
                }
            });
        }

        @Override
        public void makeFolder(Path folder) throws IOException {
            disk.makeFolder(folder);
        }

        @Override
        public void move(Path from, Path to) throws IOException {
            disk.move(from, to);
        }

        @Override
        public void makeReadOnly(Path file) throws IOException {
            disk.makeReadOnly(file);
        }

        @Override
        public void delete(Path fileOrFolder) throws IOException {
            disk.delete(fileOrFolder);
        }

        @Override
        public List<Path> sweep(Path folder) throws IOException {
            return disk.sweep(folder);
        }
    }

    private final FileStore disk = FileStore.onDisk();
    private final Fault fault;
    private int stepsLeft;
    private boolean stopped;

    FaultyFileStore(Fault fault, int failAtStep) {
        this.fault = fault;
        this.stepsLeft = failAtStep;
    }

    /** Whether the chosen step was reached. */
    boolean failed() {
        return stepsLeft < 0;
    }

    private interface Step {
        void run() throws IOException;
    }

    private void step(Step step) throws IOException {
        if (stopped) {
            throw new Stopped(); // clean-up code of the program does not run on a machine that stopped
        }
        if (stepsLeft-- != 0) {
            step.run();
            return;
        }
        switch (fault) {
            case DISK_FULL -> throw new IOException("No space left on device");
            case STOP_BEFORE, STOP_HALF_WAY -> stop();
            case STOP_AFTER -> {
                step.run();
                stop();
            }
        }
    }

    private void stop() {
        stopped = true;
        throw new Stopped();
    }

    @Override
    public void write(Path target, Writer writer) throws IOException {
        if (!stopped && stepsLeft == 0 && fault == Fault.DISK_FULL) {
            stepsLeft--;
            disk.write(target, aside -> {
                writer.writeTo(aside);
                byte[] all = Files.readAllBytes(aside);
                Files.write(aside, java.util.Arrays.copyOf(all, all.length / 2));
                throw new IOException("No space left on device");
            });
        } else if (!stopped && stepsLeft == 0 && fault == Fault.STOP_HALF_WAY) {
            stepsLeft--;
            Path aside = target.resolveSibling(".aside-left-" + target.getFileName());
            writer.writeTo(aside);
            byte[] all = Files.readAllBytes(aside);
            Files.write(aside, java.util.Arrays.copyOf(all, all.length / 2));
            stop();
        } else {
            step(() -> disk.write(target, writer));
        }
    }

    @Override
    public void makeFolder(Path folder) throws IOException {
        step(() -> disk.makeFolder(folder));
    }

    @Override
    public void move(Path from, Path to) throws IOException {
        step(() -> disk.move(from, to));
    }

    @Override
    public void makeReadOnly(Path file) throws IOException {
        step(() -> disk.makeReadOnly(file));
    }

    @Override
    public void delete(Path fileOrFolder) throws IOException {
        step(() -> disk.delete(fileOrFolder));
    }

    @Override
    public List<Path> sweep(Path folder) throws IOException {
        if (stopped) {
            throw new Stopped();
        }
        return disk.sweep(folder);
    }
}
