import { Worker } from "node:worker_threads";

/** Two cores. */
const THREADS = 2;

/** Hands the questions to threads that run `worker`, in the order given, and tells `answered` of each answer as it comes. */
export async function answersInThreads<Answered>(worker: URL, asked: readonly unknown[], answered: (answer: Answered, count: number) => void): Promise<Answered[]> {
  const waiting = [...asked];
  const answers: Answered[] = [];
  const threads = Array.from({ length: THREADS }, () => new Worker(worker));
  await Promise.all(
    threads.map(
      (thread) =>
        new Promise<void>((resolve, reject) => {
          const next = (): void => {
            const question = waiting.shift();
            if (question === undefined) resolve();
            else thread.postMessage(question);
          };
          thread.on("error", reject);
          thread.on("message", (answer: Answered) => {
            answers.push(answer);
            answered(answer, answers.length);
            next();
          });
          next();
        }),
    ),
  );
  await Promise.all(threads.map((thread) => thread.terminate()));
  return answers;
}
