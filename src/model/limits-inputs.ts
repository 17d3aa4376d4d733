// How much of an input is read before it is refused, each limit with its reason: nothing anybody wrote comes near, and what does would
// take the memory or the patience of a machine.
import { related } from './limits.js';

/** Of a file; a scenario of ten years with ten openings a day has about two million. */
export const mostFileCharacters = 8_000_000;

/** Longer numbers than this are not meant as numbers. */
export const mostDigits = 30;

/** Longer text than this is no quantity: it is refused before anything looks at each of its characters. */
export const mostQuantityCharacters = 1_000;

/** Of a list in a scenario: fifty openings a day for ten years. */
export const mostEntries = 200_000;

/** Draws of one fault; an hour of chatter every millisecond has 3.6 million. */
export const mostChatterDraws = 4_000_000;

/** Of a usage profile: one every ten seconds, which is no longer a door but a turnstile. */
export const mostOpeningsAnHour = 360;

/** Durations that a distribution may list: a longer list says no more. */
export const mostDrawn = 10_000;

/** Of a kind that can be drawn: more than one a day is no mishap. */
export const mostMishapsAYear = 400;

/** More rows than this are a log of something else. */
export const mostReadings = 100_000;

/** More rows than this are a log of something else. */
export const mostDeviceLogRows = 1_000_000;

/** Values of a scenario that are taken one after the other: a witness of a search lists the time of each wake. */
export const mostInTurn = 200_000;

/** Edges that a contact may have in one timeline: 160 MB. */
export const mostContactEdges = 20_000_000;

/** That the planner draws years of: each costs a little, and a page must answer at once. */
export const mostOpeningsADay = 500;

/** Drawn for each setting that may do. */
export const mostTunedYears = 2_000;

/** A hundred million: no interval gains from more. */
export const mostEstimatedYears = 100_000_000;

/** Threads: no machine at hand has more cores. */
export const mostJobs = 256;

/** Machines that share one estimate. */
export const mostShards = 100_000;

/** Timelines of one hunt: months of it. */
export const mostHuntedRuns = 1_000_000_000;

/** Of a log or a table, and values of an object in it: what has more is no row. */
export const mostColumns = 1_000;

/** Different values of a column: one with more is not one of sensors. */
export const mostSensors = 1_000;

/** Forms of time in one log: one that mixes more is not believed. */
export const mostTimeForms = 16;

/** Of a line of a log: a longer one is none of a log. */
export const mostLineCharacters = 1_000_000;

/** Openings of a visit on average: one with more would never end. */
export const mostOpeningsAVisit = 1_000;

/** Openings that are drawn for one visit, however many its distribution would give. */
export const mostDrawnInVisit = 100_000;

/** Days of a log that a profile was fitted to: more than fifty years. */
export const mostLoggedDays = 20_000;

/** Fits to a log drawn again that a profile carries: their spread shows from some hundreds on. */
export const mostResamples = 1_000;

/** Of a link that the planner makes: a longer address is more than browsers and letters carry. */
export const mostLinkCharacters = 60_000;

/** Of a link that the planner reads: a letter may take nine characters, and the fields come on top. */
export const mostHashCharacters = 1_000_000;

/** Of `year`: with more, its calendar is no longer looked at. */
export const mostLivedYears = 1_000;

/** That anybody would accept: two a minute. */
export const mostFalseAlarmsAYear = 1_000_000;

/** Of a text file: two for each of its characters; no watch file or scenario that a person wrote has more. */
export const mostTextBytes = 16 * 1024 * 1024;

/** Of a certificate: a kilobyte for each of its states at most. */
export const mostCertificateMebibytes = 256;

/** That are looked at for changes. */
export const mostWatchedFiles = 20_000;

/** Trials with a magnet at the door: a person makes some dozens. */
export const mostPlaceTrials = 2_000;

// The shortest entry, `- at 06:20 for 40s`, has 20 characters with its line's end: a full list fits a file.
related(20 * mostEntries, mostFileCharacters, 'a full list fits a file');
// `3599999ms, ` has 11 characters.
related(11 * mostInTurn, mostFileCharacters, 'a full list of times fits a file');
related(mostDigits, mostQuantityCharacters, 'a number fits a quantity');
related(mostOpeningsADay, 24 * mostOpeningsAnHour, 'a day of the planner fits a profile');
related(mostTunedYears, mostEstimatedYears, 'what tune draws can be estimated');
related(mostFileCharacters, mostTextBytes, 'a full file can be read');
related(mostLineCharacters, mostFileCharacters, 'a line fits a file');
related(mostOpeningsAVisit, mostDrawnInVisit, 'an average visit can be drawn');
related(9 * mostLinkCharacters, mostHashCharacters, 'a link that is made can be read');
related(mostPlaceTrials, mostReadings, 'trials are a small table');
