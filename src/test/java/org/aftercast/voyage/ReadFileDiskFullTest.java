package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import org.aftercast.intake.ImportOptions;
import org.aftercast.study.FileStore;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A disk that fills up while a result is written: the failure is told, nothing is left, what was there stays. */
class ReadFileDiskFullTest {

    @TempDir
    private Path folder;

    /** Writes through the real store, but each file breaks off as a full disk does. */
    private static FileStore full() {
        FileStore real = FileStore.onDisk();
        return (FileStore) java.lang.reflect.Proxy.newProxyInstance(
                FileStore.class.getClassLoader(), new Class<?>[] {FileStore.class}, (proxy, method, args) -> {
                    if (method.getName().equals("write")) {
                        try {
                            real.write((Path) args[0], (FileStore.Writer) aside -> {
                                Files.writeString(aside, "half");
                                throw new IOException("No space left on device");
                            });
                        } catch (IOException failure) {
                            throw failure;
                        }
                        return null;
                    }
                    return method.invoke(real, args);
                });
    }

    @Test
    void nothingIsHalfWritten() throws Exception {
        StringBuilder csv = new StringBuilder("time_s,x,y,z\n");
        for (int i = 0; i < 600; i++) {
            csv.append(String.format(Locale.ROOT, "%.2f,0,%.3f,1%n", i / 20.0, 0.2 * Math.sin(i * 0.4)));
        }
        Path file = Files.writeString(folder.resolve("a.csv"), csv);
        Path json = Files.writeString(folder.resolve("out.json"), "what was there");
        Path series = folder.resolve("out.parquet");
        ReadFile reader = new ReadFile(full());
        ReadFile.Result result =
                reader.read(file, null, ImportOptions.none(), ReadContext.nothingKnown(), Settings.defaults());
        assertThatThrownBy(() -> reader.writeJson(result, json))
                .isInstanceOf(IOException.class)
                .hasMessageContaining("out.json")
                .hasMessageContaining("No space left");
        assertThatThrownBy(() -> reader.writeSeries(result, series)).isInstanceOf(IOException.class);
        assertThat(json).hasContent("what was there");
        assertThat(series).doesNotExist();
        try (Stream<Path> left = Files.list(folder)) {
            assertThat(left.map(p -> p.getFileName().toString()).sorted().toList())
                    .isEqualTo(List.of("a.csv", "out.json"));
        }
    }
}
