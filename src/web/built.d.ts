/** Chips that the page carries, their texts by their names: put in when the page is built. */
declare const builtInChips: Readonly<Record<string, string>>;
