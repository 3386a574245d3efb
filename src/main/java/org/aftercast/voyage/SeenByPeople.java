package org.aftercast.voyage;

import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.aftercast.fate.Sighting;
import org.aftercast.study.Release;
import org.aftercast.study.Seen;
import org.aftercast.study.StudyStore;
import org.jspecify.annotations.Nullable;

/** What people saw of an animal, as the fate's reader takes it: times in seconds from the first sample. */
final class SeenByPeople {

    private SeenByPeople() {}

    /**
     * Everything seen; the state at release counts too, unless somebody noted it as a sighting already.
     *
     * @param startUtc instant of the recording's first sample, or null when it has no time of day
     */
    static List<Sighting> of(StudyStore store, String animal, @Nullable Instant startUtc) throws IOException {
        List<Sighting> all = new ArrayList<>();
        for (Seen seen : store.all(Seen.class)) {
            if (seen.animal().toLowerCase(Locale.ROOT).equals(animal.toLowerCase(Locale.ROOT))) {
                String note = seen.seenNote() == null ? "" : seen.seenNote();
                all.add(new Sighting(seen.what(), seconds(startUtc, seen.seenUtc()), note));
            }
        }
        Release release = store.find(Release.class, animal).orElse(null);
        Sighting.What state = release == null ? null : atRelease(release.releaseState());
        boolean noted = all.stream().anyMatch(s -> isOfRelease(s.what()));
        if (release != null && state != null && !noted) {
            all.add(new Sighting(state, seconds(startUtc, release.releasedUtc()), ""));
        }
        return all;
    }

    private static Sighting.@Nullable What atRelease(Release.@Nullable ReleaseState state) {
        if (state == null) {
            return null;
        }
        return switch (state) {
            case SWAM_OFF_STRONGLY -> Sighting.What.SWAM_OFF_STRONGLY;
            case SWAM_OFF_WEAKLY -> Sighting.What.SWAM_OFF_WEAKLY;
            case FLOATED -> Sighting.What.FLOATED_AT_RELEASE;
            case SANK -> Sighting.What.SANK_WITHOUT_SWIMMING;
            case SWAM_OFF, NOT_SEEN -> null; // says nothing either way
        };
    }

    private static boolean isOfRelease(Sighting.What what) {
        return switch (what) {
            case SWAM_OFF_STRONGLY, SWAM_OFF_WEAKLY, SANK_WITHOUT_SWIMMING, FLOATED_AT_RELEASE -> true;
            default -> false;
        };
    }

    private static @Nullable Double seconds(@Nullable Instant startUtc, @Nullable Instant atUtc) {
        return startUtc == null || atUtc == null
                ? null
                : Duration.between(startUtc, atUtc).toMillis() / 1e3;
    }
}
