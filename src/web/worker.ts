/** Entry of the workers: everything is computed here, off the page. */
import { answerLetters } from "#browser";
import { Session } from "#workbench";

/** A message comes in before a timeout of nothing runs out. */
const breathe = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));

const session = new Session(breathe);
answerLetters((request, tell) => session.answer(request, tell));
