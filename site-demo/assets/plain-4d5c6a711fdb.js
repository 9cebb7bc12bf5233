"use strict";
(function(){
const modules=(globalThis.stepwardModules??={});
modules["parts/follower/words.js"]=(function(){
let words=null;
function useWords(groups){
words=groups;
}
function find(key,group){
words??=JSON.parse(document.getElementById("interface-words")?.textContent??"{}");
return(words)[group]?.[key];
}
function say(key,values={},group="follower"){
const text=find(key,group)??key;
return text.replace(/\{([a-z]+)\}/g,(whole,name)=>(Object.hasOwn(values,name)?String(values[name]):whole)).trim();
}
function sayOf(family,id){
return find(`${family}-${id}`,"follower")===undefined?id:say(`${family}-${id}`);
}
function timeAt(wall){
return new Date(Math.ceil(wall/60_000)*60_000).toLocaleTimeString(document.documentElement.lang||"en",{hour:"2-digit",minute:"2-digit"});
}
function duration(seconds){
const parts=[[Math.floor(seconds/3600),"h"],[Math.floor(seconds/60)%60,"min"],[seconds%60,"s"]];
return parts.filter(([count])=>count>0).map(([count,unit])=>`${count} ${unit}`).join(" ")||"0 s";
}
return{useWords,say,sayOf,timeAt,duration};
})();
modules["parts/follower/make.js"]=(function(){
function make(tag,attributes={},...children){
const element=document.createElement(tag);
for(const[name,value]of Object.entries(attributes)){
if(typeof value==="function")element.addEventListener(name,(value));
else if(value===true)element.setAttribute(name,"");
else if(value!==false&&value!==null&&value!==undefined)element.setAttribute(name,String(value));
}
element.append(...children.filter((child)=>child!==null&&child!==false&&child!==undefined).map((child)=>(child)));
return element;
}
function alertSymbol(){
const space="http://www.w3.org/2000/svg";
const svg=document.createElementNS(space,"svg");
for(const[name,value]of[["viewBox","0 0 24 22"],["class","caution__alert"],["aria-hidden","true"]])svg.setAttribute(name,value);
const path=document.createElementNS(space,"path");
path.setAttribute("fill-rule","evenodd");
path.setAttribute("d","M12 0 24 22H0ZM10.6 7.5 11.2 15.4h1.6L13.4 7.5ZM12 16.8a1.4 1.4 0 1 0 0 2.8 1.4 1.4 0 0 0 0-2.8Z");
svg.append(path);
return svg;
}
return{make,alertSymbol};
})();
modules["script/site.js"]=(function(){
const{say:sayOf}=modules["parts/follower/words.js"];
const{make}=modules["parts/follower/make.js"];
const say=(key,values={})=>sayOf(key,values,"site");
const DAY_MS=24*60*60*1000;
function ageOf(published,days,wall){
const from=Date.parse(`${published}T00:00:00Z`);
const age=Math.floor((wall-from)/DAY_MS);
const until=new Date(from+days*DAY_MS).toISOString().slice(0,10);
return{age:Math.max(0,age),until,state:age<-1?"clock":age>days?"old":"good"};
}
function unbroken(day){
return day.replaceAll("-","\u2060-\u2060");
}
function showAge(page,wall){
const line=page.querySelector("[data-edition]");
const{published="",offlineDays="30"}=page.documentElement.dataset;
const{age,until,state}=ageOf(published,Number(offlineDays),wall);
if(line)line.textContent=say(state==="good"?"edition-age":state==="old"?"edition-old":"edition-clock",{day:unbroken(published),age,until:unbroken(until)});
if(state!=="good")askBefore(page,state,published,until);
}
function askBefore(page,state,published,until){
const key="stepward:old-acknowledged";
try{
const[day,at]=(sessionStorage.getItem(key)??"").split(" ");
if(day===published&&Date.now()-Number(at)<60*60*1000)return;
}catch{
}
const dialog=(make("dialog",{class:"edition-notice","aria-labelledby":"edition-notice-title"}));
const close=()=>{
try{
sessionStorage.setItem(key,`${published} ${Date.now()}`);
}catch{
}
dialog.close();
dialog.remove();
};
dialog.append(
make("h2",{id:"edition-notice-title"},say(state==="old"?"notice-old-title":"notice-clock-title")),
make("p",{},say(state==="old"?"notice-old":"notice-clock",{day:published,until})),
make("button",{type:"button",class:"edition-notice__go",click:close},say("notice-go")),
);
dialog.addEventListener("cancel",(event)=>event.preventDefault());
page.body.append(dialog);
dialog.showModal();
}
async function keepOffline(page){
const line=page.querySelector("[data-offline]");
const tell=(key)=>line&&(line.textContent=say(key));
if(!/^https?:$/.test(location.protocol)||!("serviceWorker"in navigator))return tell(location.protocol==="file:"?"offline-folder":"offline-not");
page.head.append(make("link",{rel:"manifest",href:`${page.body.dataset.root??""}site.webmanifest`}));
try{
const registration=await navigator.serviceWorker.register(`${page.body.dataset.root??""}offline.js`);
const waiting=()=>registration.waiting&&navigator.serviceWorker.controller&&offerNewer(page,registration.waiting);
registration.addEventListener("updatefound",()=>registration.installing?.addEventListener("statechange",()=>{
if(registration.active)tell("offline-kept");
waiting();
}));
if(registration.active)tell("offline-kept");
waiting();
}catch{
tell("offline-not");
}
}
function offerNewer(page,worker){
if(page.querySelector(".edition-newer"))return;
const show=()=>{
navigator.serviceWorker.addEventListener("controllerchange",()=>location.reload(),{once:true});
worker.postMessage("show");
};
const note=make("div",{class:"edition-newer",role:"status"},make("p",{},say("edition-newer")),make("button",{type:"button",class:"edition-newer__show",click:show},say("edition-show")));
page.querySelector("main")?.before(note);
}
function offerSearch(page){
const form=(page.querySelector("[data-search]"));
if(!form)return;
form.hidden=false;
form.addEventListener("submit",(event)=>event.preventDefault());
const failed=()=>form.querySelector("[role=status]")?.append(form.dataset.failed??"");
form.addEventListener("focusin",()=>page.head.append(make("script",{src:form.dataset.search,error:failed})),{once:true});
}
if(typeof document!=="undefined"){
offerSearch(document);
showAge(document,Date.now());
keepOffline(document);
}
return{ageOf,showAge,keepOffline};
})();
})();
