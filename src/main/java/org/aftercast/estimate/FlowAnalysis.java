package org.aftercast.estimate;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Predicate;
import org.aftercast.estimate.WhoWasTagged.Kind;
import org.aftercast.estimate.WhoWasTagged.Stage;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.RecordEnd;
import org.jspecify.annotations.Nullable;

/** Counts the stages from the landing to the fate. */
final class FlowAnalysis {

    private FlowAnalysis() {}

    static WhoWasTagged of(List<AnimalOutcome> animals, @Nullable LandedCounts landed, PackageReturns returns) {
        List<Stage> stages = new ArrayList<>();
        Kind whole = Kind.TAGGED;
        if (landed != null) {
            whole = Kind.LANDED;
            stages.add(new Stage(Kind.LANDED, "brought to the vessel", landed.landed(), Kind.LANDED));
            stages.add(new Stage(Kind.DEAD_AT_VESSEL, "dead before release", landed.deadAtVessel(), Kind.LANDED));
            for (LandedCounts.NotTagged reason : landed.notTagged()) {
                stages.add(new Stage(
                        Kind.NOT_TAGGED, "released without a package: " + reason.reason(), reason.animals(), whole));
            }
            int unexplained = landed.unexplained(animals.size());
            if (unexplained > 0) {
                stages.add(new Stage(
                        Kind.NOT_TAGGED,
                        landed.notTagged().isEmpty()
                                ? "released without a package"
                                : "released without a package, no reason noted",
                        unexplained,
                        whole));
            }
        }
        int known = animals.size() + returns.notRead();
        int tagged = landed == null ? known : Math.max(known, landed.taggedOf(animals.size()));
        stages.add(new Stage(Kind.TAGGED, "released with a package", tagged, whole));
        if (tagged > animals.size()) {
            stages.add(new Stage(Kind.NO_OUTCOME_YET, "not read yet", tagged - animals.size(), Kind.TAGGED));
        }
        int lost = count(animals, animal -> animal.end() == RecordEnd.PACKAGE_LOST);
        stages.add(new Stage(Kind.PACKAGE_RETRIEVED, "package retrieved", known - lost, Kind.TAGGED));
        part(stages, Kind.FROM_WATER, "taken from the water", returns.fromWater(), Kind.PACKAGE_RETRIEVED);
        part(stages, Kind.FOUND_ASHORE, "found ashore", returns.ashore(), Kind.PACKAGE_RETRIEVED);
        part(stages, Kind.HANDED_IN, "handed in by somebody else", returns.handedIn(), Kind.PACKAGE_RETRIEVED);
        stages.add(new Stage(Kind.PACKAGE_LOST, "package not retrieved", lost, Kind.TAGGED));
        part(stages, Kind.SEARCH_ABANDONED, "search abandoned", returns.abandoned(), Kind.PACKAGE_LOST);
        if (returns.abandoned() > 0) { // without searches on record nobody can say how the others stand
            part(stages, Kind.STILL_AT_SEA, "still at sea", lost - returns.abandoned(), Kind.PACKAGE_LOST);
        }
        int usable = count(animals, animal -> animal.fate() != AnimalFate.UNDECIDED);
        stages.add(new Stage(Kind.USABLE, "fate decided", usable, Kind.TAGGED));
        stages.add(new Stage(
                Kind.ALIVE,
                "alive at the end of its record",
                count(animals, a -> a.fate() == AnimalFate.ALIVE_AT_END && a.end() != RecordEnd.SHED_EARLY),
                Kind.USABLE));
        stages.add(new Stage(
                Kind.SHED,
                "alive when the package came off early",
                count(animals, a -> a.fate() == AnimalFate.ALIVE_AT_END && a.end() == RecordEnd.SHED_EARLY),
                Kind.USABLE));
        stages.add(new Stage(Kind.DIED, "died", count(animals, a -> a.fate() == AnimalFate.DIED), Kind.USABLE));
        stages.add(new Stage(
                Kind.SCAVENGED,
                "died, then fed upon",
                count(animals, a -> a.fate() == AnimalFate.DEAD_THEN_SCAVENGED),
                Kind.USABLE));
        stages.add(new Stage(
                Kind.EATEN,
                "eaten by a larger animal",
                count(animals, a -> a.fate() == AnimalFate.EATEN),
                Kind.USABLE));
        int unknown = animals.size() - usable;
        int unseen = count(animals, a -> a.fate() == AnimalFate.UNDECIDED && a.end() == RecordEnd.PACKAGE_LOST);
        stages.add(new Stage(Kind.UNDECIDED, "fate not known", unknown, Kind.TAGGED));
        part(stages, Kind.NO_RECORD, "without a record", unseen, Kind.UNDECIDED);
        part(stages, Kind.CANNOT_TELL, "undecided: the record cannot tell", unknown - unseen, Kind.UNDECIDED);
        return new WhoWasTagged(stages);
    }

    private static void part(List<Stage> stages, Kind kind, String name, int animals, Kind of) {
        if (animals > 0) {
            stages.add(new Stage(kind, name, animals, of));
        }
    }

    private static int count(List<AnimalOutcome> animals, Predicate<AnimalOutcome> which) {
        return (int) animals.stream().filter(which).count();
    }
}
