// How much of an input is read before it is refused, each limit with its reason: nothing anybody wrote comes near, and what does would
// take the memory or the patience of a machine.
import { dayMs, meanYearMs } from '../base/index.js';
import { gapLimits, type Limits, monthMs, related } from './limits.js';

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

/** Of a line of a log, or of a row that goes over several: a longer one is none of a log. */
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

/** Rows of a table that a person types at the door, such as trials with a magnet: some dozens. */
export const mostTypedRows = 2_000;

/** Of a scenario, of the part of a log that is replayed, and of a silence: ten years. */
export const longestTimelineMs = 3_660 * dayMs;

/** Of any duration that is written: a hundred years. */
export const longestDurationMs = 100 * meanYearMs;

/** Of a timeline that a hunt tries, and of the hunt itself: a year. */
export const longestHuntMs = 366 * dayMs;

/** Openings of one visit, where their number is listed or always the same. */
export const mostListedInVisit = 10_000;

/** Of a usage profile: by how much an hour, a day or a week may have more openings than usual. */
export const factorLimits: Limits = { least: 0, most: 100 };

/** In mm: the width or height of a doorway, from a hatch to a hall. */
export const doorwayLimits: Limits = { least: 100, most: 20_000 };

/** In litres: a room, from a box to a hall. */
export const roomLimits: Limits = { least: 10, most: 100_000_000 };

/** How exact a hand or a firmware is with time: beyond a minute nothing is compared any more. */
export const mostToleranceMs = 60_000;

/** Of a pattern of times, such as `%d.%m.%Y`: its shortest forms fit many times over. */
export const mostPatternCharacters = 200;

/** Of a line of a serial log: a longer one is left out, so that no pattern works on it for long. */
export const mostSerialCharacters = 4_000;

/** Lists in a JSON object that are turned into the columns of a log; with more they are something else. */
export const mostListColumns = 100;

/** Of the address of a planner that a data sheet links to: its settings follow. */
export const mostUrlCharacters = 500;

/** Close-ups of a picture: with more nobody finds one. */
export const mostCloseUps = 1_000;

/** In nA, of a device asleep: none draws more than this; a meter of hand size shows no less than a nanoampere. */
export const mostSleepNa = 100_000_000;

/** In mm: a gap is measured with feeler strips, and no better than this is no measurement. */
export const mostGapErrorMm = 50;

/** Lines that are looked at for the header of a log, after one that makes no sense. */
export const mostTitleLines = 10;

/** JSON objects around the list that is a log. */
export const mostWrappings = 3;

/** Words for the state of a door that mean nothing: as many are remembered, and listed. */
export const mostNewWords = 20;

/** Numbers among them that are kept, to see which groups they fall into: a week at one every 30 s. */
export const mostNewReadings = 20_160;

/** Factors of one fit of a profile: more than any fit has. */
export const mostFactors = 9;

/** In ms, of a device's clock at power-on: a counter of 64 bits goes far beyond it, and a double still has whole milliseconds. */
export const mostClockStartMs = 2 ** 52;

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
related(mostTypedRows, mostReadings, 'what is typed is a small table');
related(longestTimelineMs, longestDurationMs, 'a length of a timeline can be written');
related(longestHuntMs, longestTimelineMs, 'what a hunt finds can be a scenario');
related(monthMs, longestHuntMs, 'a hunt can wait for any setting');
related(mostListedInVisit, mostDrawnInVisit, 'a visit of the most openings can be drawn');
related(mostOpeningsAVisit, mostListedInVisit, 'an average visit can be listed');
related(mostPatternCharacters, mostLineCharacters, 'a time fits a line');
related(mostSerialCharacters, mostLineCharacters, 'a line of a serial log is a line');
related(mostListColumns, mostColumns, 'lists that become columns fit a table');
related(mostTitleLines, mostTypedRows, 'lines above a header are few beside the rows');
related(mostGapErrorMm, gapLimits.most / 1_000, 'an error is less than a gap');
related(mostUrlCharacters, mostLinkCharacters, 'an address leaves room for its settings');
