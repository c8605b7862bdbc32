// Before everything else: a file that is dropped while the page is still coming must not be opened by the browser
// in its place. It is kept until the page has begun (main.js takes it).
addEventListener("dragover", (event) => event.preventDefault());
addEventListener("drop", (event) => {
  event.preventDefault();
  window.early ??= event.dataTransfer?.files?.[0];
});
