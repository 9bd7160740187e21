/** The module as bytes in base64. */
export declare function assembleFourLanes(): Promise<string>;
