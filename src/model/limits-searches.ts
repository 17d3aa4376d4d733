// How far searches, runs and shrinking go before they stop, each with its reason and what it must be to the others. A limit of one
// picture or table stays where it is.
import { mostCombinations, related } from './limits.js';

/** States that are enumerated before the settings count as too large. */
export const mostTableStates = 1_000_000;

/** More states than any sensible logic has: reaching it means that something in its context grows for ever. */
export const mostOtherStates = 5_000;

/** More wakes than any sensible run has: reaching it means that the loop does not advance. */
export const mostWakesOfRun = 4_000_000_000;

/** States of one search: some 200 MB. */
export const mostSearchedStates = 200_000;

/** With heartbeats followed from power-on, the most states before they are left free instead. */
export const mostTimedStates = 20_000;

/** Of a search for brief openings that add up to a false alarm: it may end without an answer, and the rest goes on. */
export const mostAliasingStates = 100_000;

/** States that all trials of remedies of one question together may take: advice must not take longer than the answer. */
export const mostRemedyStates = 40_000;

/** Simulated years that price a remedy in false alarms: enough to tell three per year from thirty, in a tenth of a second. */
export const pricedYears = 20;

/** The most states of a search that only tells what one thing adds. */
export const mostFindingStates = 30_000;

/** The most states of a search for something near. */
export const mostNearbyStates = 30_000;

/** The most states of a search that only decides which command line to suggest: a second or two. */
export const mostHintStates = 5_000;

/** States of one proof: what a person can keep in a file, and a checker step through in minutes. */
export const mostCertifiedStates = 250_000;

/** The same of a watch with something left out, to see whether that is enough for a proof: a second or two for each that is tried. */
export const mostSmallerProofStates = 20_000;

/** Ways that are followed to show a run of a certificate; more than this is not tried. */
export const mostRunTries = 200_000;

/** States of one search: thousands of settings are searched, so that none may take for ever. */
export const mostTuneStates = 20_000;

/** States of each search beside a replay: what happened must not wait long for what is proved. */
export const mostReplayStates = 30_000;

/** Phases that are run one by one for one with a false alarm, to show it, and the wakes of all these runs together. */
export const mostPhaseExamples = 200;
export const mostPhaseExampleWakes = 20_000_000;

/** Wakes of pieces for the one line in which a plain replay says what other phases do: less than half a second. */
export const mostPhaseSteps = 300_000;

/** The same for a page, which takes longer to make. */
export const mostPagePhaseSteps = 3_000_000;

/** The same for the row of an estimate or a profile on the log itself: some seconds beside years that take longer. */
export const mostLogPhaseSteps = 10_000_000;

/**
 * Runs that every phase of a watch with ranges is the mean of, each with its own clock error and times. Of a log of a week the mean of
 * 50 is that of the whole range but for some thousandths; many openings need fewer, and each run takes longer.
 */
export const mostPhaseRuns = 50;
export const fewestPhaseRuns = 5;
/** Openings of all runs: some seconds. */
export const openingsOfPhaseRuns = 10_000;

/**
 * Where the charge ends within a timeline, each phase is a run of its own: openings of all these runs, and wakes that take another time
 * each. About 40 s. Beyond this some of the phases are judged, evenly spread, and never fewer than the second number at each clock error.
 */
export const mostFlatPhaseSteps = 40_000_000;
export const fewestFlatPhases = 50;

/** Enough for a plain watch; a drill need not wait for more. */
export const mostDrillStates = 60_000;

/** Timelines tried in shrinking, at most: what is left then is made simpler by hand, which is quicker. */
export const mostShrinks = 2_000;

/** Candidates that are tried to make a finding simpler. */
export const mostSimplified = 6_000;

/** The same for a run that shows a bound: there are several for each answer, which is waited for. */
export const mostWitnessTries = 250;

/** Settings of one search: more than this are no longer a choice. */
export const mostTunedSettings = 20_000;

/** Values of one setting that is searched. */
export const mostTunedValues = 2_000;

/** Checks at rest of a run that is written down: over half a year of checks every five minutes. */
export const mostWrittenRests = 60_000;

/** Rests, each one check longer, that are tried before a run with heartbeats. */
export const mostTriedRests = 2_000;

/** Checks of a device at rest until its checks and heartbeats repeat: reaching it means that they do not. */
export const mostRestChecks = 4_000_000;

/**
 * Wakes of pieces for all phases of one stretch between two rests, in a comparison with messages, and how many stretches may turn out
 * to take more: about half a minute together. No log of a year that was tried reached either.
 */
export const mostStretchSteps = 10_000_000;
export const mostStretchTries = 3;

/** Shut checks in a row that bring a device to rest: all that are remembered and counted, and each failed attempt twice. */
export const mostRestRounds = 300;

/** Wakes in which a firmware is compared with the machine: more than a log or a timeline of years has. */
export const mostConformWakes = 100_000_000;

/** Strokes of a script that is drawn: with more, nothing in it is ever quiet. */
export const mostStrokes = 20;

/** Long quiet stretches in a script: each takes time to run. */
export const mostChapters = 5;

/** Findings that a replay with `--all` explains: a reason may cost a run of its own. */
export const mostReplayReasons = 500;

/** Edges of the contact that all those runs together may go through: some seconds. */
export const mostReasonEdges = 20_000_000;

/** Findings of one call of the library that get a reason: it has to answer at once. */
export const mostLibraryReasons = 50;

/** Wakes of a value change dump: some ten lines each. */
export const mostDumpedWakes = 1_000_000;

/** States of an owner's own machine as it is written, before it is compiled: it is not even looked through beyond. */
export const mostOtherNodes = 100_000;

/** Levels of maps and lists in its context. */
export const mostOtherLevels = 20;

/** For compiling it: far longer than any machine of use takes, which is a second or two for a thousand states. */
export const mostLogicMs = 20_000;

/** For compiling it: a context that grows for ever is refused by its states long before. */
export const mostLogicMebibytes = 1_024;

/** For finding the events in a serial log: a pattern that needs longer tries the same characters in too many ways. */
export const mostMatchMs = 10_000;

/** Findings of a report that get a reason: a reason may cost a run of its own. */
export const mostReportReasons = 300;

/** Findings that the planner explains: it answers while a person types. */
export const mostPlannerReasons = 20;

/** Edges of the contact beyond which the planner explains few: a reason costs a run of its own. */
export const mostPlannerEdges = 4_000;

/** For compiling a firmware: longer than any takes. */
export const mostCompileMs = 120_000;

/** For the start of a compiled program that does nothing: one that does not start in this time cannot run here. */
export const mostStartMs = 5_000;

/** A charge that ends more often than this within a timeline is no supply. */
export const mostFlats = 200;

/** Runs of a firmware until its voltage settles: one that does not changes what the firmware does each time. */
export const mostVoltageRuns = 30;

/** Errors of a record or a device log that are listed: with more it is another kind of file. */
export const mostListedErrors = 20;

/** Places that a drill looks for a step from: more take minutes. */
export const mostDrillPlaces = 900;

/** The same for a step that shows a single mistake. */
export const mostDrillPlacesAside = 60;

/** Wakes of one step: with more it is no drill for a person. */
export const mostDrillWakes = 3_000;

/** Blind alleys on one tour of a drill. */
export const mostTourBans = 8;

/** Legs of one tour: more has none. */
export const mostTourLegs = 200;

/** Nodes of the search for the steps of a drill: a few are enough for most watches, and this many take seconds. */
export const mostCoverNodes = 6_000;

/** Openings of a drawn series: a few for each day of two months. */
export const mostInSeries = 150;

/** Brief visits in a row: more than a day has. */
export const mostBriefVisits = 40;

/** Breaches of one property in one timeline that are compared with the machine: each takes runs of its own. */
export const mostExcusedBreaches = 8;

/** Years of all resamples of a profile together. */
export const mostResampledYears = 2_000;

/** Beginnings of a silence in the simulated years: more change no share by a thousandth. */
export const mostSilenceStarts = 4_000;

/** Hours of the day at which the outages of a spell may begin, where heartbeats come at more: a minute each. */
export const mostSpellHours = 1_440;

/**
 * Openings that one resample is fitted to, about. A log of more is resampled by fewer days than it has (m out of n;
 * Bickel, Götze & van Zwet, Stat. Sinica 7 (1997) 1), and what they differ by is shrunk by √(m/n).
 */
export const mostResampleOpenings = 10_000;

/** Openings that all resamples of a log together may be fitted to. */
export const mostResampledOpenings = 400_000;

/** Rounds times gaps that a fit of visits may take. */
export const mostFitSteps = 3_000_000;

/** Gaps of one fit of visits: more are sampled in blocks first. */
export const mostFitGaps = 60_000;

/** Pairs of openings in which dependence is looked for: it shows in fewer. */
export const mostDependencePairs = 20_000;

/** Steps of one reduction: it ends long before, and reaching this means that it does not. */
export const mostReductionSteps = 10_000;

// A search that only helps an answer must not go further than the answer's own.
for (const states of [
  mostTimedStates,
  mostAliasingStates,
  mostRemedyStates,
  mostFindingStates,
  mostNearbyStates,
  mostHintStates,
  mostTuneStates,
  mostReplayStates,
  mostDrillStates,
]) {
  related(states, mostSearchedStates, 'a search within a search is the smaller');
}
related(mostDrillPlacesAside, mostDrillPlaces, 'a search for one mistake is the smaller');
// What a proof found can be certified, and what a watch file accepts can be compiled.
related(mostSearchedStates, mostCertifiedStates, 'what is found can be certified');
related(mostSmallerProofStates, mostCertifiedStates, 'a smaller proof is one');
related(2 * mostCombinations, mostTableStates, 'what is accepted can be compiled');
related(fewestPhaseRuns, mostPhaseRuns, 'fewer runs take less time');
related(mostPagePhaseSteps, mostLogPhaseSteps, 'an estimate takes longer than a page');
related(mostPhaseSteps, mostPagePhaseSteps, 'a page may take longer than a line');
related(mostTunedValues, mostTunedSettings, 'one setting alone is never too many');
related(mostLogPhaseSteps, mostStretchSteps, 'a comparison may take longer than an estimate');
related(mostConformWakes, mostWakesOfRun, 'what a firmware is compared in can be simulated');
related(mostReportReasons, mostReplayReasons, 'a page explains no more than a replay');
related(mostLibraryReasons, mostReportReasons, 'a call explains no more than a page');
related(mostPlannerReasons, mostLibraryReasons, 'a key press explains no more than a call');
related(
  mostPlannerReasons * mostPlannerEdges,
  mostReasonEdges,
  'the planner goes no further than a replay',
);
related(mostStartMs, mostCompileMs, 'a program starts sooner than it is compiled');
related(mostOtherStates, mostTableStates, 'an own machine is no larger than a table');
related(mostDumpedWakes, mostWakesOfRun, 'what is dumped can be simulated');
related(mostChapters, mostStrokes, 'quiet stretches take time');
related(mostTriedRests, mostWrittenRests, 'what is tried can be written down');
related(mostWitnessTries, mostSimplified, 'an answer is waited for, a finding once');
related(mostResampleOpenings, mostResampledOpenings, 'one resample is one of all');
related(mostExcusedBreaches, mostShrinks, 'what is excused takes less than what is found');
related(mostFitGaps, mostFitSteps, 'every fit has at least one round');
