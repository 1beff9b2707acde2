/** Words that become a place to type when pressed. */
import { useSignal } from "@preact/signals";
import { TypedWords } from "./typed-words.tsx";

export interface PressedWordsProps {
  readonly label: string;
  /** As they are read, and as they are typed. */
  readonly words: string;
  readonly start: string;
  /** What a screen reader hears of them; label and words where left out. */
  readonly spoken?: string;
  /** Letters of room at least. */
  readonly room?: number;
  readonly class: string;
  /** Called with what was typed without blanks round it, where that is another. */
  readonly onKeep: (next: string) => void;
}

export function PressedWords(props: PressedWordsProps) {
  const { label, words, start, spoken = `${label}: ${words}`, room = 12, onKeep } = props;
  const isTyping = useSignal(false);
  const done = (next: string | undefined): void => {
    isTyping.value = false;
    if (next !== undefined && next.trim() !== start) onKeep(next.trim());
  };
  if (isTyping.value) return <TypedWords label={label} start={start} room={room} onDone={done} />;
  return (
    <button
      type="button"
      class={props.class}
      aria-label={spoken}
      onClick={() => {
        isTyping.value = true;
      }}
    >
      {words}
    </button>
  );
}
