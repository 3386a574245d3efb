package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;

class EstimateSchemaTest {

    /** On a difference run {@link EstimateSchema#main} with the project folder and read what changed. */
    @Test
    void thePublishedSchemaDescribesTheRecords() throws IOException {
        Path base = Path.of(System.getProperty("aftercast.basedir", "."));
        assertThat(Files.readString(base.resolve("docs/estimate.schema.json"))).isEqualTo(EstimateSchema.text(base));
        assertThat(Files.readString(base.resolve("docs/plan.schema.json"))).isEqualTo(EstimateSchema.planText(base));
    }
}
