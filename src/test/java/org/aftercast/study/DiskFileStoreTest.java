package org.aftercast.study;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assumptions.assumeThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.BasicFileAttributes;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class DiskFileStoreTest {

    private final FileStore files = FileStore.onDisk();

    @TempDir
    Path temp;

    @Test
    void aFailingWriterLeavesTheOldFileAndNothingAside() throws IOException {
        Path target = temp.resolve("a.txt");
        files.write(target, new byte[] {1});
        assertThatThrownBy(() -> files.write(target, aside -> {
                    Files.write(aside, new byte[1000]);
                    throw new IOException("No space left on device");
                }))
                .isInstanceOf(IOException.class)
                .hasMessage(target + ": could not be written (No space left on device); nothing was changed");
        assertThatThrownBy(() -> files.write(target, aside -> {
                    Files.write(aside, new byte[1000]);
                    throw new IllegalStateException("a bug");
                }))
                .isInstanceOf(IllegalStateException.class);
        assertThatThrownBy(() -> files.write(target, aside -> {}))
                .as("a writer that writes nothing")
                .isInstanceOf(IOException.class);
        assertThat(target).hasBinaryContent(new byte[] {1});
        assertThat(temp.toFile().list()).containsExactly("a.txt");
    }

    @Test
    void targetsThatCannotBeFilesAreNamed() throws IOException {
        assertThatThrownBy(() -> files.write(temp, new byte[1])).hasMessageContaining("not a file that can be written");
        assertThatThrownBy(() -> files.write(temp.resolve("none/a.txt"), new byte[1]))
                .hasMessageContaining("is not there");
        assertThatThrownBy(() -> files.write(Path.of("/"), new byte[1])).isInstanceOf(IOException.class);
        Files.writeString(temp.resolve("file"), "x");
        assertThatThrownBy(() -> files.makeFolder(temp.resolve("file/below"))).isInstanceOf(IOException.class);
    }

    /** Never on a real device: as root a fault here would put a plain file in its place. A named pipe stands for one. */
    @Test
    void pipesAndLinksToThemStayWhatTheyAre() throws Exception {
        Path pipe = temp.resolve("pipe");
        Process maker;
        try {
            maker = new ProcessBuilder("mkfifo", pipe.toString()).start();
        } catch (IOException absent) {
            assumeThat(absent).as("mkfifo is not on this machine").isNull();
            throw absent;
        }
        assertThat(maker.waitFor()).isZero();
        Path link = Files.createSymbolicLink(temp.resolve("link"), pipe);
        for (Path target : List.of(pipe, link)) {
            assertThatThrownBy(() -> files.write(target, new byte[1]))
                    .hasMessage(
                            target + ": is a device, pipe or folder and stays as it is; accepted: the name of a file"
                                    + " to write");
        }
        assertThat(Files.readAttributes(pipe, BasicFileAttributes.class).isOther())
                .isTrue();
        assertThat(Files.isSymbolicLink(link)).isTrue();
        assertThat(temp.toFile().list()).containsExactlyInAnyOrder("pipe", "link");
    }

    @Test
    void linksAreReplacedNotWrittenThrough() throws IOException {
        Path elsewhere = Files.writeString(temp.resolve("elsewhere"), "precious");
        Path link = Files.createSymbolicLink(temp.resolve("link"), elsewhere);
        files.write(link, "new".getBytes(java.nio.charset.StandardCharsets.UTF_8));
        assertThat(elsewhere).hasContent("precious");
        assertThat(Files.isSymbolicLink(link)).isFalse();
        assertThat(link).hasContent("new");
    }

    @Test
    void deletingAFolderDoesNotFollowLinks() throws IOException {
        Path precious = Files.createDirectory(temp.resolve("precious"));
        Files.writeString(precious.resolve("a"), "x");
        Path folder = Files.createDirectory(temp.resolve("folder"));
        Files.createSymbolicLink(folder.resolve("link"), precious);
        files.delete(folder);
        files.delete(folder);
        assertThat(folder).doesNotExist();
        assertThat(precious.resolve("a")).exists();
    }

    @Test
    void longNamesFitTheFileSystem() throws IOException {
        Path target = temp.resolve("ü".repeat(120)); // 240 bytes in UTF-8
        files.write(target, new byte[] {1});
        assertThat(target).exists();
    }

    @Test
    void sweepTakesOnlyWhatWasLeftAside() throws IOException {
        Files.writeString(temp.resolve(".aside-1-x"), "");
        Files.createDirectory(temp.resolve(".aside-2-folder"));
        Files.writeString(temp.resolve(".aside-2-folder/y"), "");
        Files.writeString(temp.resolve("x.aside-"), "");
        assertThat(files.sweep(temp)).hasSize(2);
        assertThat(temp.toFile().list()).containsExactly("x.aside-");
    }

    @Test
    void aFolderThatMayNotBeWrittenToIsSaid() throws IOException {
        Path folder = Files.createDirectory(temp.resolve("locked"));
        Files.setPosixFilePermissions(folder, PosixFilePermissions.fromString("r-xr-xr-x"));
        assumeThat(Files.isWritable(folder))
                .as("permissions do not bind the superuser: skipped")
                .isFalse();
        assertThatThrownBy(() -> files.write(folder.resolve("a"), new byte[1]))
                .hasMessageContaining("you may not write there");
    }

    @Test
    void messagesForReadOnlyMedia() {
        Path study = Path.of("stick", "study");
        assertThat(StudyLock.notWritable(study, new java.nio.file.AccessDeniedException("x")))
                .hasMessageContaining("read-only medium")
                .hasMessageContaining("copy the folder");
        assertThat(StudyLock.notWritable(
                        study, new java.nio.file.FileSystemException("x", null, "Read-only file system")))
                .hasMessageContaining("read-only medium");
        assertThat(StudyLock.notWritable(study, new IOException("Input/output error")))
                .hasMessageContaining("Input/output error");
    }
}
