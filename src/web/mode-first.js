/* Goes into the chosen mode before anything is painted, so that no white frame flashes in a room lit amber. */
try {
  document.documentElement.dataset.mode = localStorage.getItem("waferwright mode") || "paper";
} catch {
  document.documentElement.dataset.mode = "paper";
}
