package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.nio.charset.StandardCharsets;
import java.util.List;
import org.aftercast.estimate.AnimalOutcome;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.RecordEnd;
import org.junit.jupiter.api.Test;

class FatesCsvTest {

    private static List<AnimalOutcome> read(String text) throws BadInputException {
        return FatesCsv.read("fates.csv", text.getBytes(StandardCharsets.UTF_8));
    }

    private static List<String> problems(String text) {
        return catchThrowableOfType(BadInputException.class, () -> read(text)).problems();
    }

    @Test
    void readsOneWordCalls() throws BadInputException {
        List<AnimalOutcome> animals = read("animal,fate,atRiskH,hook,fightMin\n"
                + "A1,survived,24,lip,5\nA2,Died,3.5,gut,20\nA3,eaten,6,lip,\nA4,shed,10,gut,7\nA5,lost,,lip,8\n"
                + "A6,undecided,2,lip,9\nA7,scavenged,1,lip,9\n");
        assertThat(animals)
                .extracting(AnimalOutcome::fate)
                .containsExactly(
                        AnimalFate.ALIVE_AT_END,
                        AnimalFate.DIED,
                        AnimalFate.EATEN,
                        AnimalFate.ALIVE_AT_END,
                        AnimalFate.UNDECIDED,
                        AnimalFate.UNDECIDED,
                        AnimalFate.DEAD_THEN_SCAVENGED);
        assertThat(animals.get(3).end()).isEqualTo(RecordEnd.SHED_EARLY);
        assertThat(animals.get(4).end()).isEqualTo(RecordEnd.PACKAGE_LOST);
        assertThat(animals.get(4).atRiskH()).isZero();
        assertThat(animals.get(1).groups()).containsEntry("hook", "gut").containsEntry("fightMin", "20");
        assertThat(animals.get(1).covariates()).containsOnlyKeys("fightMin").containsEntry("fightMin", 20.0);
        assertThat(animals.get(2).covariates()).isEmpty();
    }

    @Test
    void readsTwoColumnsSemicolonsDaysAndDecimalCommas() throws BadInputException {
        List<AnimalOutcome> animals = read("\uFEFFAnimal;Animal fate;Record end;Time at risk (d)\r\n"
                + "A1;alive-at-end;shed-early;0,5\r\nA2;dead-then-scavenged;planned-detachment;1\r\n");
        assertThat(animals.get(0).atRiskH()).isEqualTo(12);
        assertThat(animals.get(0).end()).isEqualTo(RecordEnd.SHED_EARLY);
        assertThat(animals.get(1).fate()).isEqualTo(AnimalFate.DEAD_THEN_SCAVENGED);
    }

    @Test
    void readsRecoveryTimesSeenAndLater() throws BadInputException {
        String text = "animal,fate,atRiskH,recoveryH,recoverySeen,recoveryLowH,recoveryHighH\n"
                + "A1,survived,24,5.5,,3,9\nA2,survived,24,20,no,,\nA3,died,3,,,,\n";
        assertThat(FatesCsv.table("f.csv", text.getBytes(StandardCharsets.UTF_8))
                        .recoveries())
                .extracting(r -> r.animal() + " " + r.seen() + " " + r.hours() + " " + r.lowH() + " " + r.highH())
                .containsExactly("A1 RECOVERED 5.5 3.0 9.0", "A2 LATER_THAN 20.0 null null");
        assertThat(problems("animal,fate,atRiskH,recoveryH,recoverySeen,recoveryLowH,recoveryHighH\n"
                        + "A1,survived,24,-1,,,\nA2,survived,24,5,maybe,,\nA3,survived,24,,,1,2\n"
                        + "A4,survived,24,5,,6,9\nA5,survived,24,5,no,4,9\n"))
                .hasSize(5)
                .allMatch(line -> line.contains("line ") && line.contains("accepted"));
    }

    @Test
    void readsProbabilitiesAndTakesSmallSumsOffAsRounding() throws BadInputException {
        AnimalOutcome animal = read("animal,fate,atRiskH,pSurvived,pDied,pEaten,pShed\nA1,died,24,0.333,.333,0.333,\n")
                .get(0);
        assertThat(animal.probabilities()).isNotNull();
        assertThat(animal.probabilities().died()).isCloseTo(1 / 3.0, org.assertj.core.api.Assertions.within(1e-12));
        assertThat(animal.probabilities().shed()).isZero();
    }

    @Test
    void namesEveryBadCellByLineAndColumn() {
        List<String> problems = problems("animal,fate,atRiskH,pDied\n"
                + "A1,dead?,24,\nA2,died,-3,\nA2,survived,,\n,survived,5,\nA5,survived,5\nA6,survived,1e999,\n"
                + "A7,survived,3,0.5\nA8,survived,3,x\n");
        assertThat(problems).hasSize(9);
        assertThat(problems).anyMatch(p -> p.startsWith("fates.csv, line 2, column 2 (fate): \"dead?\""));
        assertThat(problems).anyMatch(p -> p.startsWith("fates.csv, line 3, column 3 (atRiskH): \"-3\""));
        assertThat(problems)
                .anyMatch(p -> p.startsWith("fates.csv, line 4, column 1 (animal): \"A2\" stands on line 3"));
        assertThat(problems).anyMatch(p -> p.startsWith("fates.csv, line 4, column 3 (atRiskH): no time at risk"));
        assertThat(problems)
                .anyMatch(p -> p.startsWith("fates.csv, line 5, column 1 (animal): the animal has no name"));
        assertThat(problems).anyMatch(p -> p.startsWith("fates.csv, line 6: 3 fields; accepted: 4"));
        assertThat(problems).anyMatch(p -> p.startsWith("fates.csv, line 7, column 3 (atRiskH)"));
        assertThat(problems).anyMatch(p -> p.contains("line 8, column 4 (pDied): the fate probabilities sum to 0.500"));
        assertThat(problems).anyMatch(p -> p.contains("line 9, column 4 (pDied): \"x\" is not a probability"));
        assertThat(problems).allMatch(p -> p.contains("accepted:"));
    }

    @Test
    void namesContradictionsAndUnknownEnds() {
        assertThat(problems("animal,fate,end,atRiskH\nA1,shed,planned,3\nA2,survived,shed-early,3\nA3,died,sunk,3\n"))
                .hasSize(3)
                .allMatch(p -> p.contains("column 3 (end)"));
    }

    @Test
    void refusesFilesThatAreNotSuchATable() {
        assertThat(problems("")).singleElement().asString().contains("is empty");
        assertThat(problems("animal,fate,atRiskH\n")).singleElement().asString().contains("no animal");
        assertThat(problems("name,what\nx,y\n")).hasSize(3).allMatch(p -> p.contains("there is no column"));
        assertThat(problems("animal,fate,atRiskH,atRiskH\nA,died,1,1\n"))
                .singleElement()
                .asString()
                .contains("column 4");
        assertThat(problems("animal,fate,atRiskH,atRiskD\nA,died,1,1\n"))
                .singleElement()
                .asString()
                .contains("given twice");
        assertThat(catchThrowableOfType(
                                BadInputException.class, () -> FatesCsv.read("f", new byte[] {(byte) 0xE9, 'x'}))
                        .problems())
                .singleElement()
                .asString()
                .contains("UTF-8");
    }

    @Test
    void listsAtMostFiftyProblemsAndCountsTheRest() {
        StringBuilder text = new StringBuilder("animal,fate,atRiskH\n");
        for (int i = 0; i < 80; i++) {
            text.append("A").append(i).append(",?,1\n");
        }
        assertThat(problems(text.toString())).hasSize(51).last().asString().contains("30 more");
    }
}
