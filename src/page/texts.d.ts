/** Texts that the page's build puts in as strings. */
declare module '*.yaml' {
  const text: string;
  export default text;
}
declare module '*.css' {
  const text: string;
  export default text;
}
