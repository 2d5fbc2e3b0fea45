/**
 * Set up before every test that runs on a mutant: properties draw the same examples each time, so that a score can be
 * reproduced, and stop at the first counterexample, because nobody reads a mutant's smallest one.
 */
import { configureGlobal } from "fast-check";

configureGlobal({ seed: 1, endOnFailure: true });
