/** Entry of the command line: says how to call it. */
process.stdout.write("Usage: node waferwright.mjs <command> [chip folder]\n");
